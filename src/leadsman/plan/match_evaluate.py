"""Expected zone length of many scenarios at once: the inner loop of `match`."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.hydro.fouling import GrassEffect, grass_effect
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.zone import ContactZones, PathBatch, contact_zones, zones_in_band
from leadsman.plan.candidates import Candidate, PathSolver, Trial
from leadsman.plan.match_types import MatchRequest
from leadsman.plan.tip_schedule import TipSchedule

FloatArray = npt.NDArray[np.float64]

NODES = (0.0, -math.sqrt(3.0), math.sqrt(3.0))
NODE_WEIGHTS = (2.0 / 3.0, 1.0 / 6.0, 1.0 / 6.0)
"""Three-point Gauss-Hermite rule for a normal error of the depth, in standard errors [-];
exact for polynomials to the fifth degree (any text on quadrature)."""

MOST_ANGLE_RAD = math.radians(84.0)

CHUNK = 2000
"""Retrieves computed at once, to bound memory [-]."""


@dataclass(frozen=True, slots=True)
class Scenario:
    """One candidate with one cast and one tip schedule.

    Parameters
    ----------
    candidate : int
        Index of the candidate [-].
    cast_m : float
        Cast [m].
    schedule : TipSchedule
        What the tip does [-].
    """

    candidate: int
    cast_m: float
    schedule: TipSchedule


@dataclass(frozen=True, slots=True)
class Scores:
    """Measures of scenarios, one row each.

    Parameters
    ----------
    zone_m : ndarray, shape (m, k)
        Expected zone at each limit of the request [m].
    node_zone_m : ndarray, shape (m, 3)
        Zone at the request's limit as thought, shallower and deeper [m].
    near_m, contact_m, plowing_m, travelled_m, mean_load : ndarray, shape (m,)
        As in `leadsman.hydro.zone.ContactZones`, nominal [m], [-].
    first_contact_m, first_contact_s : ndarray, shape (m,)
        Distance gone and time until first contact, nan without [m], [s].
    duration_s : ndarray, shape (m,)
        Time of the whole retrieve [s].
    max_depth_m : ndarray, shape (m,)
        Greatest depth over this bottom, nominal [m].
    fouls, lost_chance : ndarray, shape (m,)
        Expected fouls and chance of a lost cast, nominal [-].
    band_s : ndarray, shape (m,)
        Time inside the depth band, 0 without one, nominal [s].
    line_touches : ndarray of bool, shape (m,)
        Whether the line touched something, nominal [-].
    """

    zone_m: FloatArray
    node_zone_m: FloatArray
    near_m: FloatArray
    contact_m: FloatArray
    plowing_m: FloatArray
    travelled_m: FloatArray
    mean_load: FloatArray
    first_contact_m: FloatArray
    first_contact_s: FloatArray
    duration_s: FloatArray
    max_depth_m: FloatArray
    fouls: FloatArray
    lost_chance: FloatArray
    band_s: FloatArray
    line_touches: npt.NDArray[np.bool_]


class Evaluator:
    """Computes and measures scenarios for one request.

    Parameters
    ----------
    request : MatchRequest
        What is asked [-].
    candidates : sequence of Candidate
        The tackle [-].
    solve : callable
        The physics, a `PathSolver` [-].
    """

    def __init__(
        self, request: MatchRequest, candidates: Sequence[Candidate], solve: PathSolver
    ) -> None:
        self.request = request
        self.candidates = candidates
        self._solve = solve
        self.computed = 0
        self.unsolved = 0
        self._bare = None if request.bottom is None else replace(request.bottom, grass=None)
        self._rel_se = [self._relative_error(c) for c in candidates]
        self._elasticity = self._elasticities()

    def free_depths(self, scenarios: Sequence[Scenario]) -> FloatArray:
        """Greatest depth of each scenario free of any bottom, shape (m,) [m].

        Parameters
        ----------
        scenarios : sequence of Scenario
            What to compute [-].
        """
        found = [
            self._run([self._trial(s, 0.0) for s in part], None).max_depth_m
            for part in _chunks(scenarios)
        ]
        return np.concatenate(found) if found else np.empty(0)

    def scores(self, scenarios: Sequence[Scenario]) -> Scores:
        """Measure scenarios, expected over the error of the depth.

        Parameters
        ----------
        scenarios : sequence of Scenario
            At least one [-].
        """
        nominal = self._measure(scenarios, 0.0)
        zones = [nominal.zone_m]
        uncertain = [i for i, s in enumerate(scenarios) if self._rel_se[s.candidate] > 0.0]
        for node in NODES[1:]:
            shifted = nominal.zone_m.copy()
            if uncertain:
                part = self._measure([scenarios[i] for i in uncertain], node)
                shifted[uncertain] = part.zone_m
            zones.append(shifted)
        expected = sum(w * z for w, z in zip(NODE_WEIGHTS, zones, strict=True))
        return replace(
            nominal,
            zone_m=np.asarray(expected),
            node_zone_m=np.stack([z[:, 0] for z in zones], axis=1),
        )

    def _measure(self, scenarios: Sequence[Scenario], node: float) -> Scores:
        parts = [
            self._measure_paths(self._run([self._trial(s, node) for s in part], self._bare), part)
            for part in _chunks(scenarios)
        ]
        return parts[0] if len(parts) == 1 else _join(parts)

    def _measure_paths(self, paths: PathBatch, scenarios: Sequence[Scenario]) -> Scores:
        request = self.request
        effect: GrassEffect | None = None
        if request.bottom is not None and request.bottom.grass is not None:
            effect = self._grass(paths, scenarios, request.bottom.grass)
        rows = len(paths)
        none = np.full(rows, np.nan)
        contact = (
            None
            if self._bare is None
            else contact_zones(paths, self._bare, request.limits, request.near_m)
        )
        zone, band_s = self._zone(paths, contact, effect)
        empty = np.zeros(rows)
        return Scores(
            zone_m=zone,
            node_zone_m=zone[:, :1],
            near_m=empty if contact is None else contact.near_m,
            contact_m=empty if contact is None else contact.contact_m,
            plowing_m=empty
            if contact is None
            else np.maximum(contact.contact_m - contact.zone_m[:, 0], 0.0),
            travelled_m=np.abs(np.diff(paths.x_m, axis=1)).sum(axis=1),
            mean_load=empty if contact is None else contact.mean_load,
            first_contact_m=none if contact is None else contact.first_contact_m,
            first_contact_s=none if contact is None else contact.first_contact_s,
            duration_s=paths.t_s[:, -1],
            max_depth_m=paths.max_depth_m,
            fouls=empty if effect is None else effect.fouls,
            lost_chance=empty if effect is None else effect.lost_chance,
            band_s=band_s,
            line_touches=paths.line_touches,
        )

    def _zone(
        self, paths: PathBatch, contact: ContactZones | None, effect: GrassEffect | None
    ) -> tuple[FloatArray, FloatArray]:
        """Clean metres in the wanted state at each limit, (b, k) [m], and band time, (b,) [s]."""
        request = self.request
        if request.band is not None:
            clean = None if effect is None else effect.clean_chance
            band = request.band
            return zones_in_band(paths, band.top_m, band.bottom_m, request.limits, clean)
        assert contact is not None and self._bare is not None  # no band, so there is a bottom
        if effect is None:
            return contact.zone_m, np.zeros(len(paths))
        bare_chance = effect.clean_chance * (1.0 - effect.touch_share)
        on_bottom = contact_zones(paths, self._bare, request.limits, request.near_m, bare_chance)
        return on_bottom.zone_m + self._in_grass(paths, effect), np.zeros(len(paths))

    def _grass(
        self, paths: PathBatch, scenarios: Sequence[Scenario], layer: GrassLayer
    ) -> GrassEffect:
        assert self._bare is not None
        tackle = [self.candidates[s.candidate].clearing for s in scenarios]
        return grass_effect(paths, layer, self._bare, tackle, self.request.fouling)

    def _in_grass(self, paths: PathBatch, effect: GrassEffect) -> FloatArray:
        """Expected clean metres touching the grass and not plowing the bottom in it, (b, k) [m]."""
        metres = np.abs(np.diff(paths.x_m, axis=1)) * effect.touch_share * effect.clean_chance
        load = 0.5 * (paths.load[:, 1:] + paths.load[:, :-1])
        return np.stack(
            [np.where(load <= limit, metres, 0.0).sum(axis=1) for limit in self.request.limits],
            axis=1,
        )

    def _run(self, trials: Sequence[Trial], bottom: BottomProfile | None) -> PathBatch:
        paths = self._solve(trials, bottom, self.request.water, self.request.drag)
        self.computed += len(paths)
        self.unsolved += int(np.count_nonzero(~paths.solved))
        return paths

    def _trial(self, scenario: Scenario, node: float) -> Trial:
        candidate = self.candidates[scenario.candidate]
        technique = scenario.schedule.technique(
            scenario.cast_m, candidate.reel_rate, candidate.take_up, candidate.boat_m_s
        )
        forces = candidate.lure.forces
        shift = node * self._rel_se[scenario.candidate]
        if shift != 0.0:
            forces = _scaled_angle(forces, 1.0 + shift / self._elasticity[scenario.candidate])
        return Trial(forces, candidate.line.properties, technique)

    def _relative_error(self, candidate: Candidate) -> float:
        """Error of lure depth and of bottom depth together, relative [-]."""
        own = candidate.lure.depth_rel_se
        bottom = self.request.bottom
        if bottom is None or bottom.depth_se_m is None:
            return own
        mean = max(float(np.mean(bottom.depth_m)), 1e-6)
        return min(math.hypot(own, float(np.mean(bottom.depth_se_m)) / mean), 0.5)

    def _elasticities(self) -> list[float]:
        """Ratio d log(depth) / d log(dive angle) of each candidate at its longest cast [-].

        An error of the depth is played through as an error of the dive angle,
        which is what moves depth and contact load together.
        """
        if not any(se > 0.0 for se in self._rel_se):
            return [1.0] * len(self.candidates)
        plain, raised = [], []
        for candidate in self.candidates:
            schedule = TipSchedule(candidate.lowest_tip_m, in_turns=candidate.in_turns)
            technique = schedule.technique(
                max(candidate.casts_m), candidate.reel_rate, candidate.take_up, candidate.boat_m_s
            )
            line, forces = candidate.line.properties, candidate.lure.forces
            plain.append(Trial(forces, line, technique))
            raised.append(Trial(_scaled_angle(forces, 1.1), line, technique))
        shallow = self._run(plain, None).max_depth_m
        deep = self._run(raised, None).max_depth_m
        ratio = np.log(np.maximum(deep, 1e-3) / np.maximum(shallow, 1e-3)) / math.log(1.1)
        return [float(min(max(value, 0.3), 2.0)) for value in ratio]


def _scaled_angle(forces: LureForces, factor: float) -> LureForces:
    angle = min(max(forces.dive_angle_rad * factor, 0.0), MOST_ANGLE_RAD)
    return replace(forces, dive_angle_rad=angle)


def _chunks(scenarios: Sequence[Scenario]) -> list[Sequence[Scenario]]:
    return [scenarios[i : i + CHUNK] for i in range(0, len(scenarios), CHUNK)]


def _join(parts: Sequence[Scores]) -> Scores:
    def both(name: str) -> FloatArray:
        arrays: list[FloatArray] = [getattr(part, name) for part in parts]
        return np.concatenate(arrays)

    return Scores(
        zone_m=both("zone_m"),
        node_zone_m=both("node_zone_m"),
        near_m=both("near_m"),
        contact_m=both("contact_m"),
        plowing_m=both("plowing_m"),
        travelled_m=both("travelled_m"),
        mean_load=both("mean_load"),
        first_contact_m=both("first_contact_m"),
        first_contact_s=both("first_contact_s"),
        duration_s=both("duration_s"),
        max_depth_m=both("max_depth_m"),
        fouls=both("fouls"),
        lost_chance=both("lost_chance"),
        band_s=both("band_s"),
        line_touches=np.concatenate([part.line_touches for part in parts]),
    )
