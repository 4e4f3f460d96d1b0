"""What a setup fishes at a place, by the physics: the zone of one cast, its depth, the pace.

Worked out once for each setup and place and kept in the log's file, because the physics
takes longer to start than the advice takes to think. What is kept is worked out anew when
the kit, what was observed of its lures, or the program changes.
"""

from __future__ import annotations

import hashlib
import json
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal

from leadsman import __version__
from leadsman.usecases.log_tackle import split_setup
from leadsman.waterlog.effort import Fishing
from leadsman.waterlog.events import Place, SetupStart
from leadsman.waterlog.store import Waterlog

if TYPE_CHECKING:
    from leadsman.hydro.bottom_profile import BottomProfile
    from leadsman.hydro.retrieve_result import FloatArray, Retrieve
    from leadsman.kitfile.kit import Kit
    from leadsman.usecases.resolve_setup import ResolvedSetup
    from leadsman.usecases.resolve_technique import ResolvedTechnique

Kind = Literal["near the bottom", "plowing", "free", "unknown setup"]

LEAST_ZONE_M = 2.0
"""No cast counts for less zone than this, or one bite would count for a day [m]. Own choice."""
ERROR_STEPS = (-1.645, -1.036, -0.674, -0.385, -0.126, 0.126, 0.385, 0.674, 1.036, 1.645)
"""Middles of the tenths of a standard normal, to average over the error of a depth [-]."""
MOST_SURE, LEAST_SURE = 0.02, 0.5
"""Bounds of the relative error of a running depth, as in the ranking of the kit [-]."""
PLOWING_SHARE = 0.8
"""Share of the contact over the acceptable load from which a lure counts as plowing, which is
never advised [-]. Own choice."""
BETWEEN_CASTS_S = 15.0
"""Time to cast, let it land and close the reel [s]. Common practice, no source, +-5 s."""
UNKNOWN = Fishing(20.0, 65.0, 3.0)
"""A setup that the kit does not hold (any more): a middling zone, pace and depth. Own guess;
it only keeps its bites from being lost, and the answer names such setups."""
VERSION = "3"
"""Raised when the meaning of a kept zone changes."""


@dataclass(frozen=True, slots=True)
class Worked:
    """What one setup fishes at one place, and how it was found.

    Parameters
    ----------
    fishing : Fishing
        Zone of a cast, pace and depth [-].
    kind : str
        What the zone counts: metres expected within a foot of the bottom or grass; the same,
        most of it plowing; within a foot of the greatest depth of a free-running lure; or a
        guess [-].
    """

    fishing: Fishing
    kind: Kind


@dataclass(frozen=True, slots=True)
class Runs:
    """How deep a setup runs free of the bottom.

    Parameters
    ----------
    depth_m, depth_sd_m : float
        Greatest running depth and its standard deviation [m].
    cast_m : float or None
        Length of its casts; None if the kit does not hold the setup [m].
    """

    depth_m: float
    depth_sd_m: float
    cast_m: float | None


class KitPhysics:
    """Zones from a kit, for the log's effort.

    Parameters
    ----------
    log : Waterlog
        The open log, in which zones are kept [-].
    kit : Kit
        The kit [-].
    """

    def __init__(self, log: Waterlog, kit: Kit) -> None:
        self._log, self._kit = log, kit
        self.version = kit_version(kit)
        self._shelf = f"zones {self.version}"
        self._known: dict[str, Worked] = {}
        for key, (_, text) in log.summaries(self._shelf).items():
            zone_m, casts_per_h, depth_m, kind = json.loads(text)
            self._known[key] = Worked(Fishing(zone_m, casts_per_h, depth_m), kind)
        self._fresh: dict[str, Worked] = {}
        self._depth_shelf = f"depths {self.version}"
        self._runs: dict[str, Runs] = {
            key: Runs(*json.loads(text))
            for key, (_, text) in log.summaries(self._depth_shelf).items()
        }
        self._fresh_runs: dict[str, Runs] = {}
        self._setups: dict[str, ResolvedSetup] = {}

    def __call__(self, setup: SetupStart, place: Place) -> Fishing:
        """Zone of a cast, pace and depth."""
        return self.worked(setup, place).fishing

    def worked(self, setup: SetupStart, place: Place) -> Worked:
        """The same, with what the zone counts.

        Parameters
        ----------
        setup : SetupStart
            With what [-].
        place : Place
            Where [-].
        """
        key = json.dumps([
            setup.setup, _rounded(setup.cast_m), _rounded(setup.tip_m), place.cover,
            _rounded(place.bottom_m),
        ])  # fmt: skip
        if key not in self._known:
            self._known[key] = self._fresh[key] = self._work_out(setup, place)
        return self._known[key]

    @property
    def unknown(self) -> tuple[str, ...]:
        """Setups met that the kit does not hold."""
        return tuple(
            sorted({json.loads(k)[0] for k, w in self._known.items() if w.kind == "unknown setup"})
        )

    def keep(self) -> None:
        """Keep what was worked out for next time."""
        if self._fresh:
            rows = {}
            for key, item in self._fresh.items():
                f = item.fishing
                rows[key] = (0, json.dumps([f.zone_m, f.casts_per_h, f.depth_m, item.kind]))
            self._log.keep_summaries(self._shelf, rows)
            self._fresh = {}
        if self._fresh_runs:
            runs = {
                key: (0, json.dumps([r.depth_m, r.depth_sd_m, r.cast_m]))
                for key, r in self._fresh_runs.items()
            }
            self._log.keep_summaries(self._depth_shelf, runs)
            self._fresh_runs = {}

    def runs(self, setup: SetupStart) -> Runs:
        """How deep a setup runs; one that the kit does not hold is wholly unsure.

        Parameters
        ----------
        setup : SetupStart
            The setup [-].
        """
        key = json.dumps([setup.setup, _rounded(setup.cast_m), _rounded(setup.tip_m)])
        if key not in self._runs:
            self._runs[key] = self._fresh_runs[key] = self._run(setup)
        return self._runs[key]

    def _run(self, setup: SetupStart) -> Runs:
        from leadsman.calibrate.running_band import running_band

        found = self._resolved(setup)
        if found is None:
            return Runs(UNKNOWN.depth_m, 3.0, None)
        tackle, fished = found
        band = running_band(tackle.belief, tackle.line, fished.technique, n=32).max_depth_m
        sd_m = max(0.5 * (band.high_50 - band.low_50) / 0.6745, 0.05)
        return Runs(band.median, sd_m, fished.technique.cast_m)

    def _work_out(self, setup: SetupStart, place: Place) -> Worked:
        from leadsman.hydro.drag import DragLaw
        from leadsman.hydro.retrieve import retrieve
        from leadsman.plan.cover_needs import Ground, ground_profile
        from leadsman.usecases.resolve_bottom import middle_drag
        from leadsman.water import Water

        found = self._resolved(setup)
        if found is None:
            return Worked(UNKNOWN, "unknown setup")
        tackle, fished = found
        bottom = None
        if place.bottom_m is not None:
            grounds: dict[str, Ground] = {"edge": "edge", "drop": "drop"}
            bottom = ground_profile(grounds.get(place.cover, "flat"), place.bottom_m)
        water, drag = Water.fresh(20.0), middle_drag(DragLaw(), tackle.spread)
        free = retrieve(tackle.forces, tackle.line, fished.technique, None, water, drag)
        path = free
        if bottom is not None:
            path = retrieve(tackle.forces, tackle.line, fished.technique, bottom, water, drag)
        casts_per_h = 3600.0 / (float(path.t_s[-1]) + BETWEEN_CASTS_S)
        runs = self.runs(setup)
        zone_m, kind = _zone(path, free, bottom, runs.depth_sd_m / max(runs.depth_m, 0.1))
        # By the bottom it is the bottom's depth that the fish are at, the same for every lure.
        at_bottom = kind in ("near the bottom", "plowing") and place.bottom_m is not None
        depth_m = float(place.bottom_m or 0.0) if at_bottom else path.max_depth_m
        return Worked(Fishing(zone_m, casts_per_h, depth_m), kind)

    def _resolved(self, setup: SetupStart) -> tuple[ResolvedSetup, ResolvedTechnique] | None:
        from leadsman.usecases.questions import TechniqueQuestion
        from leadsman.usecases.resolve_technique import resolve_technique

        if setup.setup not in self._setups:
            names = split_setup(setup.setup, self._kit)
            if names is None:
                return None
            self._setups[setup.setup] = _tackle(self._kit, *names)
        tackle = self._setups[setup.setup]
        tip: str | float = "usual" if setup.tip_m is None else setup.tip_m
        question = TechniqueQuestion(cast_m=setup.cast_m, tip=tip)
        return tackle, resolve_technique(question, tackle)


def kit_version(kit: Kit) -> str:
    """Short name of a kit with what was observed of it; another content, another name.

    Parameters
    ----------
    kit : Kit
        The kit [-].
    """
    parts = [VERSION.encode(), __version__.encode()]
    if kit.path is None:
        parts.append(repr(kit).encode())
    else:
        from leadsman.calibrate.learned import OBSERVATIONS_NAME

        for path in (kit.path, kit.path.parent / OBSERVATIONS_NAME):
            parts.append(_bytes(path))
    return hashlib.sha256(b"\0".join(parts)).hexdigest()[:16]


def _bytes(path: Path) -> bytes:
    try:
        return path.read_bytes()
    except OSError:
        return b""


def _rounded(value_m: float | None) -> float | None:
    """To the decimetre: finer than anyone knows the place, coarse enough to be found again."""
    return None if value_m is None else round(value_m, 1)


def _tackle(kit: Kit, lure_name: str, line_name: str) -> ResolvedSetup:
    from dataclasses import replace

    from leadsman.calibrate.input_spread import InputSpread
    from leadsman.calibrate.learned import learned
    from leadsman.tackle.line import line_properties, line_spread
    from leadsman.usecases.resolve_setup import ResolvedSetup

    lure, line = kit.lure(lure_name), kit.line(line_name)
    known = learned(kit)
    spread = replace(InputSpread(), diameter_log_sd=line_spread(line).diameter_log_sd)
    combo = next((c for c in kit.combos if c.line.name == line.name), None)
    return ResolvedSetup(
        kit,
        lure.name,
        line.name,
        known.belief(lure),
        line_properties(line),
        known.spread(spread),
        lure,
        line,
        combo.rod if combo else None,
        combo.reel if combo else None,
    )


def _zone(
    path: Retrieve, free: Retrieve, bottom: BottomProfile | None, relative_sd: float
) -> tuple[float, Kind]:
    """Zone of one cast [m], and what it counts."""
    import numpy as np

    from leadsman.hydro.zone import NEAR_BOTTOM_M, contact_zone, zone_in_band

    if bottom is not None and float(np.max(free.depth_m - _top(free, bottom))) >= -NEAR_BOTTOM_M:
        # Ticking metres alone would make a bite while plowing count for a whole day of ticking,
        # so all metres near the bottom count; and no lure runs just as deep as thought.
        near_m = _expected_near_m(free, bottom, relative_sd)
        contact = contact_zone(path, bottom)
        plows = contact.plowing_m > PLOWING_SHARE * contact.contact_m
        return max(near_m, LEAST_ZONE_M), "plowing" if plows else "near the bottom"
    deepest = path.max_depth_m
    held = zone_in_band(path, max(deepest - NEAR_BOTTOM_M, 0.0), deepest + NEAR_BOTTOM_M)
    return max(held.zone_m, LEAST_ZONE_M), "free"


def _top(free: Retrieve, bottom: BottomProfile) -> FloatArray:
    """Depth of the bottom, or of the grass on it, under each point of a path [m]."""
    import numpy as np

    top = np.asarray(bottom.depth_at(free.x_m), dtype=np.float64)
    if bottom.grass is not None:
        grass = bottom.grass
        top = np.minimum(top, np.interp(free.x_m, grass.x_m, grass.top_depth_m))
    return top


def _expected_near_m(free: Retrieve, bottom: BottomProfile, relative_sd: float) -> float:
    """Metres on which the lure would be within a foot of bottom or grass, or below it but for
    them, expected over the error of its depth: running free it is deeper or shallower in
    proportion all along [m].
    """
    import numpy as np

    from leadsman.hydro.zone import NEAR_BOTTOM_M

    top = _top(free, bottom)
    steps = np.abs(np.diff(free.x_m))
    sd = min(max(relative_sd, MOST_SURE), LEAST_SURE)
    total = 0.0
    for off in ERROR_STEPS:
        near = free.depth_m * (1.0 + sd * off) >= top - NEAR_BOTTOM_M
        total += float(np.sum(steps * 0.5 * (near[1:].astype(float) + near[:-1].astype(float))))
    return total / len(ERROR_STEPS)
