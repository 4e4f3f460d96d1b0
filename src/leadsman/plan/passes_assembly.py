"""From chosen casts to a plan a person can follow."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leadsman.belief.coverage import Coverage
from leadsman.lake.bottom_model import BottomModel
from leadsman.plan.passes_candidates import BoatPlaces
from leadsman.plan.passes_cells import cells_of
from leadsman.plan.passes_evaluate import CastScores
from leadsman.plan.passes_fit import STEP_M
from leadsman.plan.passes_reasons import pass_cautions, pass_headline, pass_reasons
from leadsman.plan.passes_settings import STRONG_WIND_M_S, Pace, PassSettings, WindOnCasts
from leadsman.plan.passes_table import PassSetup
from leadsman.plan.passes_types import BoatStop, EdgeStretch, PassPlan, PlannedCast

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class Made:
    """Casts that were chosen, with their scores and what they cover.

    Parameters
    ----------
    places : BoatPlaces
        All places of the boat [-].
    place : ndarray of int, shape (m,)
        Place of each chosen cast [-].
    angle_rad, cast_m : ndarray, shape (m,)
        Direction in the frame [rad] and length [m].
    scores : tuple of CastScores, length m
        Where each cast's scores are [-].
    rows : ndarray of int, shape (m,)
        Its row in them [-].
    retrieve_s : ndarray, shape (m,)
        Time of each retrieve, trouble with a headwind included [s].
    coverage : Coverage
        What the chosen casts cover [m].
    boat_m_s : float
        Speed at which the boat creeps, 0 where it is held [m s-1].
    bound_m : float
        No choice covers more, 0 where there is no bound [m].
    considered : int
        Candidates evaluated [-].
    pace : Pace
        How long things take [-].
    """

    places: BoatPlaces
    place: IntArray
    angle_rad: FloatArray
    cast_m: FloatArray
    scores: tuple[CastScores, ...]
    rows: IntArray
    retrieve_s: FloatArray
    coverage: Coverage
    boat_m_s: float
    bound_m: float
    considered: int
    pace: Pace

    def in_order(self, wind: WindOnCasts | None) -> Made:
        """The same with the casts in the order in which they are made.

        Parameters
        ----------
        wind : WindOnCasts or None
            From some wind on the boat works into it [-].
        """
        along = self.places.along_m[self.place]
        back = False
        if self.boat_m_s > 0.0 and self.place.size:
            bearing = self.places.bearing_rad[self.place]
            back = float(np.sum(np.cos(self.angle_rad - bearing))) < 0.0
        elif wind is not None and wind.speed_m_s >= STRONG_WIND_M_S and self.place.size:
            bearing = self.places.bearing_rad[self.place]
            back = float(np.sum(np.cos(wind.from_rad - bearing))) < 0.0
        sign = -1.0 if back else 1.0
        order = np.lexsort((self.angle_rad, self.place, sign * along))
        return replace(
            self,
            place=self.place[order],
            angle_rad=self.angle_rad[order],
            cast_m=self.cast_m[order],
            scores=tuple(self.scores[i] for i in order),
            rows=self.rows[order],
            retrieve_s=self.retrieve_s[order],
            coverage=self.coverage.rows([int(i) for i in order]),
        )

    @property
    def cast_s(self) -> FloatArray:
        """Time of each cast, throw and turn included, shape (m,) [s]."""
        turn = 0.0 if self.boat_m_s > 0.0 else self.pace.turn_s
        return np.asarray(self.retrieve_s + self.pace.throw_s + turn)

    @property
    def seconds(self) -> float:
        """Time of the whole pass [s]."""
        stops = self.stops
        x = self.places.x_m[stops]
        y = self.places.y_m[stops]
        way = float(np.sum(np.hypot(np.diff(x), np.diff(y))))
        if self.boat_m_s > 0.0:
            # the boat goes on at its own pace, casting or not
            return max(float(np.sum(self.cast_s)), way / self.boat_m_s + float(self.cast_s[-1]))
        return float(
            np.sum(self.cast_s) + len(stops) * self.pace.settle_s + way / self.pace.travel_m_s
        )

    @property
    def stops(self) -> list[int]:
        """Places in the order in which they are reached [-]."""
        return list(dict.fromkeys(int(p) for p in self.place))

    @property
    def covered_m(self) -> float:
        """Expected metres covered, nothing twice [m]."""
        return self.coverage.covered(range(self.coverage.casts))

    @property
    def rate_m_s(self) -> float:
        """New edge per second [m s-1]."""
        return self.covered_m / max(self.seconds, 1e-9)


def assemble(
    stretch: EdgeStretch,
    setup: PassSetup,
    settings: PassSettings,
    model: BottomModel,
    made: Made,
    others: Sequence[Made],
    across_m: float | None,
) -> PassPlan:
    """Put a pass in words and numbers.

    Parameters
    ----------
    stretch : EdgeStretch
        The stretch [-].
    setup : PassSetup
        What is cast [-].
    settings : PassSettings
        What was wanted [-].
    model : BottomModel
        The bottom, for its frame [-].
    made : Made
        The casts chosen [-].
    others : sequence of Made
        Other passes that were weighed, itself among them [-].
    across_m : float or None
        Most new edge of a single cast square to the edge [m].
    """
    casts = _planned_casts(stretch, settings, model, made)
    stops = _stops(model, made, casts)
    minutes = made.seconds / 60.0
    zone = sum(cast.zone_m for cast in casts)
    size = float(np.sum(made.coverage.weight))
    plan = PassPlan(
        stretch=stretch,
        setup=setup,
        boat="creep" if made.boat_m_s > 0.0 else "hold",
        boat_m_s=made.boat_m_s,
        stops=stops,
        minutes=minutes,
        zone_m=zone,
        covered_m=made.covered_m,
        covered_share=made.covered_m / size,
        zone_per_hour_m=made.covered_m / max(minutes / 60.0, 1e-9),
        bound_m=max(made.bound_m, made.covered_m),
        casts_considered=made.considered,
        headline="",
        reasons=(),
        cautions=pass_cautions(stretch),
    )
    other = next(((o.covered_m, o.seconds) for o in others if o is not made), None)
    return replace(
        plan,
        headline=pass_headline(plan, settings),
        reasons=pass_reasons(plan, settings, other, across_m, made.bound_m > 0.0),
    )


def _planned_casts(
    stretch: EdgeStretch, settings: PassSettings, model: BottomModel, made: Made
) -> list[PlannedCast]:
    frame = model.lattice.frame
    along = cells_of(stretch).along_m
    left = made.coverage.nothing()
    reach = settings.rod_reach_m
    out = []
    for i in range(made.place.size):
        scores, row = made.scores[i], int(made.rows[i])
        angle, length = float(made.angle_rad[i]), float(made.cast_m[i])
        x, y = float(made.places.x_m[made.place[i]]), float(made.places.y_m[made.place[i]])
        lon, lat = frame.to_lonlat(x, y)
        north = frame.grid_heading_rad(float(lon), float(lat), 0.0)
        end_x = x + (reach + length) * math.sin(angle)
        end_y = y + (reach + length) * math.cos(angle)
        begin, end = _zone_part(np.asarray(scores.shares[row], dtype=np.float64))
        zone = [] if end <= begin else [begin * STEP_M, end * STEP_M]
        gain = float(made.coverage.gains(left)[i])
        left = made.coverage.after(left, i)
        out.append(
            PlannedCast(
                heading_deg=math.degrees(angle - north) % 360.0,
                cast_m=length,
                end_x_m=end_x,
                end_y_m=end_y,
                zone_x_m=tuple(end_x - back * math.sin(angle) for back in zone),
                zone_y_m=tuple(end_y - back * math.cos(angle) for back in zone),
                zone_m=float(scores.zone_m[row]),
                zone_band_m=(
                    float(scores.zone_band_m[row, 0]),
                    float(scores.zone_band_m[row, 1]),
                ),
                new_edge_m=gain,
                covers_m=_covers(made.coverage, i, along),
                mean_load=float(scores.mean_load[row]),
                foul_chance=-math.expm1(-float(scores.fouls[row])),
                lost_chance=float(scores.lost_chance[row]),
                seconds=float(made.cast_s[i]),
            )
        )
    return out


def _zone_part(shares: FloatArray) -> tuple[int, int]:
    """Longest run of intervals mostly in the zone: from, to."""
    good = shares >= min(0.5, 0.6 * float(np.max(shares, initial=0.0)) + 1e-9)
    edges = np.flatnonzero(np.diff(np.concatenate([[0], good.astype(np.int64), [0]])))
    if edges.size == 0:
        return 0, 0
    runs = edges.reshape(-1, 2)
    best = runs[int(np.argmax(runs[:, 1] - runs[:, 0]))]
    return int(best[0]), int(best[1])


def _covers(coverage: Coverage, cast: int, along: FloatArray) -> tuple[float, float]:
    first, last = coverage.chance.indptr[cast], coverage.chance.indptr[cast + 1]
    cells, chance = coverage.chance.indices[first:last], coverage.chance.data[first:last]
    good = cells[chance >= 0.5 * np.max(chance, initial=0.0)] % along.size
    if good.size == 0:
        return (0.0, 0.0)
    return float(np.min(along[good])), float(np.max(along[good]))


def _stops(model: BottomModel, made: Made, casts: Sequence[PlannedCast]) -> tuple[BoatStop, ...]:
    frame = model.lattice.frame
    stops = []
    for number, place in enumerate(made.stops, start=1):
        x, y = float(made.places.x_m[place]), float(made.places.y_m[place])
        lon, lat = frame.to_lonlat(x, y)
        stops.append(
            BoatStop(
                number=number,
                x_m=x,
                y_m=y,
                lon_deg=float(lon),
                lat_deg=float(lat),
                depth_m=float(made.places.depth_m[place]),
                along_m=float(made.places.along_m[place]),
                casts=tuple(casts[int(i)] for i in np.flatnonzero(made.place == place)),
            )
        )
    return tuple(stops)
