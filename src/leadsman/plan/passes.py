"""Where to hold the boat along a stretch, and which way to cast from there.

Candidate casts are evaluated over the gridded bottom from a table made once with the full
solver; those chosen cover the most new edge in the time it takes.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt
from scipy.sparse import csr_array

from leadsman.belief.coverage import Coverage
from leadsman.errors import PlanError
from leadsman.lake.bottom_model import BottomModel
from leadsman.plan.passes_assembly import Made, assemble
from leadsman.plan.passes_candidates import BoatPlaces, Casts, boat_places, fan
from leadsman.plan.passes_cells import Cells, cast_coverage, cells_of
from leadsman.plan.passes_evaluate import CastScores, PackedGrid, evaluate_casts
from leadsman.plan.passes_select import Offer, Selection, select_casts, upper_bound
from leadsman.plan.passes_settings import INTO_WIND_RAD, STRONG_WIND_M_S, PassSettings
from leadsman.plan.passes_table import ContactTable, PassSetup, contact_table
from leadsman.plan.passes_types import EdgeStretch, PassPlan

FloatArray = npt.NDArray[np.float64]
IntArray = npt.NDArray[np.int64]

CAST_CLASS_M = 4.0
"""Casts of about one length share a table [m]. Own choice: a cast is no surer than this."""

CREEP_SPEEDS_M_S = (0.15, 0.3, 0.45)
"""Speeds tried for a boat that creeps along while reeling [m s-1]. Own choice: a slow walk at
most, at which a lure still runs within a fifth of its depth."""

KEPT_SHARE = 0.25
"""Casts worth less than this share of the best are not weighed against others [-]."""
KEPT_PER_PLACE, KEPT_PER_BIN, BIN_M = 8, 3, 16.0
"""Casts kept at a place [-], and places kept [-] in each piece of the stretch [m]."""

LEAST_ZONE_M = 1.0
"""Less expected zone than this is no cast, as in `match` [m]."""


@dataclass(frozen=True, slots=True)
class _Field:
    """All candidate casts of one stretch with what they are worth."""

    places: BoatPlaces
    casts: Casts
    cast_m: FloatArray
    scores: tuple[CastScores, ...]
    score_of: IntArray
    row_of: IntArray
    duration_s: FloatArray
    coverage: Coverage


class PassPlanner:
    """Plans passes over one bottom with one setup; tables are made once and kept.

    Parameters
    ----------
    model : BottomModel
        The bottom [-].
    setup : PassSetup
        What is cast [-].
    settings : PassSettings
        What is wanted [-].
    """

    def __init__(
        self, model: BottomModel, setup: PassSetup, settings: PassSettings | None = None
    ) -> None:
        self.model = model
        self.setup = setup
        self.settings = settings or PassSettings()
        self.grid = PackedGrid.of(model, self.settings.level_m)
        self._tables: dict[tuple[float, float], ContactTable] = {}

    def table(self, cast_m: float, boat_m_s: float = 0.0) -> ContactTable:
        """The setup's contact for a cast and a movement of the boat, computed once.

        Parameters
        ----------
        cast_m : float
            Rod tip to lure [m].
        boat_m_s : float
            Velocity of the boat toward the lure [m s-1].
        """
        key = (round(cast_m, 1), round(boat_m_s, 3))
        if key not in self._tables:
            setup = self.setup.with_cast(cast_m, boat_m_s)
            self._tables[key] = contact_table(setup, self.settings.water, self.settings.drag)
        return self._tables[key]

    def plan(self, stretch: EdgeStretch) -> PassPlan:
        """Plan a pass.

        Parameters
        ----------
        stretch : EdgeStretch
            The stretch [-].

        Raises
        ------
        PlanError
            There is no safe water along it, or the lure does not ride it anywhere.
        """
        reach = self.setup.technique.cast_m
        places = boat_places(self.model, stretch, self.settings, 0.9 * reach)
        cells = cells_of(stretch)
        field = self._field(stretch, places, fan(places, stretch), cells, 0.0)
        self._check_reach(stretch, field)
        across_m = self._across(stretch, places, cells)
        made: list[Made] = []
        if self.settings.boat in ("hold", "best"):
            made.append(self._held(stretch, field))
        if self.settings.boat in ("creep", "best") and stretch.kind == "edge":
            made += self._crept(stretch, places, cells)
        if not made:
            raise PlanError(
                "a boat that creeps along needs an edge to creep along",
                stretch.name,
                "Hold the boat over a drop or a flat",
            )
        best, others = self._better(made)
        return assemble(stretch, self.setup, self.settings, self.model, best, others, across_m)

    def _better(self, made: list[Made]) -> tuple[Made, list[Made]]:
        """The best pass, and the best held and creeping ones for comparison.

        In a given time the one that covers most; else what is covered less what the same
        time is worth elsewhere, so that two good casts do not beat a whole stretch.
        """
        held = [one for one in made if one.boat_m_s == 0.0]
        price = self.settings.worth_share * max(one.rate_m_s for one in held or made)

        def worth(one: Made) -> float:
            spent = 0.0 if self.settings.minutes is not None else price * one.seconds
            return one.covered_m - spent

        crept = [one for one in made if one.boat_m_s > 0.0]
        others = [max(group, key=worth) for group in (held, crept) if group]
        return max(others, key=worth), others

    def _cast_lengths(self, angle_rad: FloatArray) -> FloatArray:
        """Length of the cast by its direction in the frame, in classes [m]."""
        wind, full = self.settings.wind, self.setup.technique.cast_m
        if wind is None:
            return np.full(angle_rad.shape, full)
        off = np.abs(np.angle(np.exp(1j * (angle_rad - wind.from_rad))))
        length = np.interp(off, wind.off_wind_rad, wind.cast_m)
        classes = np.round(length / CAST_CLASS_M) * CAST_CLASS_M
        return np.asarray(np.maximum(classes, CAST_CLASS_M), dtype=np.float64)

    def _headwind_s(self, angle_rad: FloatArray) -> FloatArray:
        """Time that casts into the wind cost more [s]."""
        wind = self.settings.wind
        if wind is None or wind.speed_m_s < STRONG_WIND_M_S:
            return np.zeros(angle_rad.shape)
        off = np.abs(np.angle(np.exp(1j * (angle_rad - wind.from_rad))))
        return np.where(off < INTO_WIND_RAD, self.settings.pace.headwind_s, 0.0)

    def _field(
        self,
        stretch: EdgeStretch,
        places: BoatPlaces,
        casts: Casts,
        cells: Cells,
        boat_m_s: float,
    ) -> _Field:
        lengths = self._cast_lengths(casts.angle_rad)
        reach = self.settings.rod_reach_m
        tip_x = places.x_m[casts.place] + reach * np.sin(casts.angle_rad)
        tip_y = places.y_m[casts.place] + reach * np.cos(casts.angle_rad)
        scores: list[CastScores] = []
        tables: list[csr_array] = []
        score_of = np.zeros(len(casts), dtype=np.int64)
        row_of = np.zeros(len(casts), dtype=np.int64)
        duration = np.zeros(len(casts))
        for length in np.unique(lengths):
            own = np.flatnonzero(lengths == length)
            table = self.table(float(length), boat_m_s)
            found = evaluate_casts(
                self.grid, table, tip_x[own], tip_y[own], casts.angle_rad[own],
                limit_load=self.settings.limit_load, grass=stretch.grass,
                fouling=self.settings.fouling, trace=True,
            )  # fmt: skip
            found.shares[~found.usable] = 0.0
            score_of[own], row_of[own] = len(scores), np.arange(own.size)
            duration[own] = table.duration_s + self._headwind_s(casts.angle_rad[own])
            scores.append(found)
            angle = casts.angle_rad[own]
            part = cast_coverage(
                cells, tip_x[own] + length * np.sin(angle), tip_y[own] + length * np.cos(angle),
                angle, found.shares, own, len(casts),
            )  # fmt: skip
            tables.append(part.chance)
            weight = part.weight
        whole = tables[0]
        for one in tables[1:]:
            whole = whole + one
        coverage = Coverage(weight, csr_array(whole))
        return _Field(places, casts, lengths, tuple(scores), score_of, row_of, duration, coverage)

    def _check_reach(self, stretch: EdgeStretch, field: _Field) -> None:
        usable = any(bool(np.any(s.usable)) for s in field.scores)
        if not usable:
            raise PlanError(
                "no cast from safe water stays over known water and clear of rises",
                stretch.name,
                "Shorten the cast, or map more of the bottom around it",
            )
        best = float(np.max(field.coverage.gains(field.coverage.nothing())))
        if best >= LEAST_ZONE_M:
            return
        units, deepest = self.settings.units, self.table(float(field.cast_m[0])).free_max_m
        if deepest < stretch.depth_m:
            short = units.depth.text(stretch.depth_m - deepest)
            raise PlanError(
                f"{self.setup.lure.name} runs to {units.depth.text(deepest)} on this cast, {short} "
                f"short of the bottom at {units.depth.text(stretch.depth_m)}",
                stretch.name,
                "Take a deeper diver, thinner line, a longer cast or a lower rod tip; or fish "
                f"above the bottom along the edge, at {units.depth.text(0.9 * deepest)}",
            )
        raise PlanError(
            f"{self.setup.lure.name} does not ride this stretch lightly for as much as "
            f"{units.distance.text(LEAST_ZONE_M)} on any cast: it would run "
            f"{units.depth.text(deepest)} deep over {units.depth.text(stretch.depth_m)}",
            stretch.name,
            "Take a shallower lure, heavier line, a shorter cast or a higher rod tip",
        )

    def _across(self, stretch: EdgeStretch, places: BoatPlaces, cells: Cells) -> float | None:
        """Most new edge of a cast square to it, for comparison; None for drops and flats [m]."""
        if stretch.kind != "edge":
            return None
        place = np.arange(len(places))
        square = Casts(place, np.mod(places.bearing_rad - 0.5 * math.pi, 2.0 * math.pi))
        other = Casts(place, np.mod(places.bearing_rad + 0.5 * math.pi, 2.0 * math.pi))
        both = Casts(
            np.concatenate([square.place, other.place]),
            np.concatenate([square.angle_rad, other.angle_rad]),
        )
        field = self._field(stretch, places, both, cells, 0.0)
        return float(np.max(field.coverage.gains(field.coverage.nothing()), initial=0.0))

    def _held(self, stretch: EdgeStretch, field: _Field) -> Made:
        pace = self.settings.pace
        cast_s = field.duration_s + pace.throw_s + pace.turn_s
        open_s = np.full(len(field.places), pace.settle_s)
        kept = _worth_weighing(field)
        offer = Offer(field.coverage.rows(kept), field.casts.place[kept], cast_s[kept], open_s)
        whole = Offer(field.coverage, field.casts.place, cast_s, open_s)
        minutes = self.settings.minutes
        budget: float | None = None
        found: Selection | None = None
        spare = 0.0
        for _ in range(4):
            if minutes is not None:
                budget = minutes * 60.0 - stretch.length_m / pace.travel_m_s - spare
                if budget < float(np.min(cast_s)) + pace.settle_s:
                    budget = minutes * 60.0 - spare
                if budget < float(np.min(cast_s)) + pace.settle_s:
                    raise _too_little_time(stretch, float(np.min(cast_s)) + pace.settle_s)
            found = select_casts(offer, budget, self.settings.worth_share, self.settings.thorough)
            chosen = [int(kept[i]) for i in found.casts]
            made = self._made(field, chosen, 0.0, 0.0)
            if minutes is None or made.seconds <= minutes * 60.0:
                break
            spare += made.seconds - minutes * 60.0
        assert found is not None
        limit = found.seconds if budget is None else budget
        bound = upper_bound(whole, [int(kept[i]) for i in found.casts], limit)
        return self._made(field, chosen, 0.0, max(bound, found.covered_m))

    def _made(self, field: _Field, chosen: list[int], boat_m_s: float, bound_m: float) -> Made:
        return Made(
            places=field.places,
            place=field.casts.place[chosen],
            angle_rad=field.casts.angle_rad[chosen],
            cast_m=field.cast_m[chosen],
            scores=tuple(field.scores[field.score_of[i]] for i in chosen),
            rows=field.row_of[chosen],
            retrieve_s=field.duration_s[chosen],
            coverage=field.coverage.rows(chosen),
            boat_m_s=boat_m_s,
            bound_m=bound_m,
            considered=len(field.casts),
            pace=self.settings.pace,
        ).in_order(self.settings.wind)

    def _crept(self, stretch: EdgeStretch, places: BoatPlaces, cells: Cells) -> list[Made]:
        """Passes on which the boat creeps along, casting ahead, at each speed and stand-off."""
        made = []
        for speed in CREEP_SPEEDS_M_S:
            for way in (0.0, math.pi):
                ahead = _ahead(fan(places, stretch), places, way)
                field = self._field(stretch, places, ahead, cells, speed)
                for off in np.unique(places.off_m):
                    chosen = self._creep(field, float(off), speed, way)
                    if chosen:
                        one = self._made(field, chosen, speed, 0.0)
                        if (
                            self.settings.minutes is None
                            or one.seconds <= self.settings.minutes * 60.0
                        ):
                            made.append(one)
        return made

    def _creep(self, field: _Field, off_m: float, speed: float, way: float) -> list[int]:
        """Cast after cast as the boat goes along; stops where it no longer pays."""
        pace, sign = self.settings.pace, 1.0 if way == 0.0 else -1.0
        on = np.flatnonzero(field.places.off_m == off_m)
        on = on[np.argsort(sign * field.places.along_m[on])]
        gain_first = field.coverage.gains(field.coverage.nothing())
        at_place = gain_first * (field.places.off_m[field.casts.place] == off_m)
        start = int(np.argmax(at_place)) if at_place.size else -1
        if start < 0 or at_place[start] < LEAST_ZONE_M:
            return []
        worth = np.flatnonzero(at_place >= 0.5 * at_place[start])
        begin = float(np.min(sign * field.places.along_m[field.casts.place[worth]]))
        left = field.coverage.nothing()
        chosen: list[int] = []
        spent, got = 0.0, 0.0
        along = begin
        end = float(np.max(sign * field.places.along_m[on]))
        while along <= end:
            place = int(on[np.argmin(np.abs(sign * field.places.along_m[on] - along))])
            own = np.flatnonzero(field.casts.place == place)
            gains = field.coverage.rows(list(own)).gains(left)
            k = int(np.argmax(gains))
            seconds = float(field.duration_s[own[k]]) + pace.throw_s
            if self.settings.minutes is not None and spent + seconds > 60.0 * self.settings.minutes:
                break
            # a cast that brings little is not made; the boat creeps on
            if gains[k] >= 0.3 * (got / max(len(chosen), 1)) and gains[k] >= LEAST_ZONE_M:
                chosen.append(int(own[k]))
                left = field.coverage.after(left, int(own[k]))
                got += float(gains[k])
            spent += seconds
            along += speed * seconds
        return list(dict.fromkeys(chosen))


def _ahead(casts: Casts, places: BoatPlaces, way: float) -> Casts:
    """Those that fly ahead of a boat that goes along the stretch, or back along it."""
    off = np.cos(casts.angle_rad - places.bearing_rad[casts.place] - way)
    keep = off > math.cos(math.radians(16.0))
    return Casts(casts.place[keep], casts.angle_rad[keep])


def _worth_weighing(field: _Field) -> IntArray:
    """The better casts of the better places, spread over the whole stretch."""
    gains = field.coverage.gains(field.coverage.nothing())
    order = np.lexsort((-gains, field.casts.place))
    place = field.casts.place[order]
    rank = np.arange(order.size) - np.searchsorted(place, place)
    kept = order[(rank < KEPT_PER_PLACE) & (gains[order] >= KEPT_SHARE * np.max(gains))]
    total = np.bincount(field.casts.place[kept], gains[kept], minlength=len(field.places))
    piece = np.floor(field.places.along_m / BIN_M).astype(np.int64)
    by = np.lexsort((-total, piece))
    position = np.arange(by.size) - np.searchsorted(piece[by], piece[by])
    good = np.zeros(len(field.places), dtype=np.bool_)
    good[by[position < KEPT_PER_BIN]] = True
    return np.sort(kept[good[field.casts.place[kept]]])


def _too_little_time(stretch: EdgeStretch, least_s: float) -> PlanError:
    return PlanError(
        f"the time is too short for a single cast, which takes {least_s / 60.0:.1f} minutes with "
        "the stop",
        stretch.name,
        f"Allow {math.ceil(least_s / 60.0)} minutes or more",
    )
