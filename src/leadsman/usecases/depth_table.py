"""How deep every lure of a kit runs on every line, against cast and rod position."""

from __future__ import annotations

import os
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field, replace

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.input_spread import InputSpread, LureBelief
from leadsman.calibrate.learned import Learned, learned
from leadsman.calibrate.quick_band import quick_band
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError
from leadsman.hydro.retrieve import retrieve_batch
from leadsman.hydro.technique import Technique
from leadsman.kitfile.kit import Kit
from leadsman.output.depth_table import DepthTable
from leadsman.tackle.line import Line, line_properties, line_spread
from leadsman.tackle.lure import Lure
from leadsman.usecases.match import rod_for
from leadsman.usecases.questions import SetupQuestion, WaterQuestion
from leadsman.usecases.resolve_bottom import middle_drag, resolve_water
from leadsman.usecases.resolve_setup import load_kit
from leadsman.usecases.resolve_technique import cast_of, resolve_tip_m

FloatArray = npt.NDArray[np.float64]

CASTS_M = tuple(yards * 0.9144 for yards in (20.0, 30.0, 40.0, 50.0, 60.0, 70.0))
"""Casts of the table unless told [m]."""

TIPS = ("under", "usual", "high")
"""Rod positions of the table unless told."""

CAST_MARGIN = 1.15
"""A cast up to this much over the angler's own is still shown [-]; a following wind gives it."""


@dataclass(frozen=True, slots=True)
class TableQuestion:
    """Which table.

    Parameters
    ----------
    setup : SetupQuestion
        The kit; a lure or line named here is the only one shown [-].
    casts_m : tuple of float
        Casts [m].
    tips : tuple of str or float
        Rod positions, words or heights [m].
    water : WaterQuestion
        The water [-].
    """

    setup: SetupQuestion = field(default_factory=SetupQuestion)
    casts_m: tuple[float, ...] = CASTS_M
    tips: tuple[str | float, ...] = TIPS
    water: WaterQuestion = field(default_factory=WaterQuestion)


@dataclass(frozen=True, slots=True)
class TableAnswer:
    """The table.

    Parameters
    ----------
    kit : Kit
        The kit [-].
    table : DepthTable
        Depths with their bands [-].
    headline : str
        The answer in a sentence [-].
    notes : tuple of str
        What was assumed [-].
    """

    kit: Kit
    table: DepthTable
    headline: str
    notes: tuple[str, ...]

    @property
    def units(self) -> DisplayUnits:
        """Units the person reads in."""
        return display_units(self.kit.units)


def find_depth_table(
    question: TableQuestion, progress: Callable[[float, str], None] | None = None
) -> TableAnswer:
    """Depth of every lure on every line for each cast and rod position.

    Parameters
    ----------
    question : TableQuestion
        Kit, casts and rod positions [-].
    progress : callable or None
        Takes the share that is done and what is being done [-].

    Raises
    ------
    InputError
        Something given cannot be used.

    Notes
    -----
    The 90 % band is computed at the shortest and the longest cast within reach,
    for each rod position, and carried to the casts between as a share of the depth.
    """
    kit, notes = load_kit(question.setup.kit)
    lures = (kit.lure(question.setup.lure),) if question.setup.lure else kit.lures
    lines = (kit.line(question.setup.line),) if question.setup.line else kit.lines
    found = table_of(kit, lures, lines, question, progress)
    return replace(found, notes=notes)


def table_of(
    kit: Kit,
    lures: tuple[Lure, ...],
    lines: tuple[Line, ...],
    question: TableQuestion | None = None,
    progress: Callable[[float, str], None] | None = None,
) -> TableAnswer:
    """Depth of some lures of a kit on some of its lines.

    Parameters
    ----------
    kit : Kit
        The kit [-].
    lures, lines : tuple of Lure, tuple of Line
        Those to show [-].
    question : TableQuestion or None
        Casts, rod positions, water and units; its names are not looked at [-].
    progress : callable or None
        Takes the share that is done and what is being done [-].

    Raises
    ------
    InputError
        Something given cannot be used.
    """
    question = question or TableQuestion()
    if question.setup.units is not None:
        kit = replace(kit, units=display_units(question.setup.units).name)
    if not lures or not lines:
        raise InputError("the kit has no lures or no lines", str(kit.path or "kit"), "Add some")
    casts = tuple(sorted(set(question.casts_m)))
    tips = tuple(dict.fromkeys(resolve_tip_m(tip, 2.3, kit.angler) for tip in question.tips))
    if not casts or not tips:
        raise InputError("a table needs a cast and a rod position", "--cast", "Give at least one")
    known = learned(kit)
    tell = progress or (lambda share, what: None)
    beliefs = [known.belief(lure) for lure in lures]
    depth = _depths(question, kit, known, lures, beliefs, lines, casts, tips)

    def band_of(u: int) -> FloatArray:
        """Shallow and deep ends for one lure, shape (2, lines, casts, tips)."""
        ends = np.empty((2, *depth.shape[1:]))
        for n, line in enumerate(lines):
            for t, tip in enumerate(tips):
                ends[:, n, :, t] = depth[u, n, :, t] * _band_shares(
                    question, kit, known, beliefs[u], line, tip, np.array(casts), depth[u, n, :, t]
                )
        return ends

    bands: list[FloatArray] = []
    with ThreadPoolExecutor(os.cpu_count()) as pool:  # the solver holds no interpreter lock
        for u, ends in enumerate(pool.map(band_of, range(len(lures)))):
            tell(0.2 + 0.8 * (u + 1) / len(lures), lures[u].name)
            bands.append(ends)
    low, high = np.stack(bands, axis=1)
    table = DepthTable(
        tuple(lure.name for lure in lures),
        tuple(line.name for line in lines),
        np.array(casts),
        np.array(tips),
        depth,
        low,
        high,
    )
    return TableAnswer(kit, table, _headline(table, display_units(kit.units)), ())


def _technique(kit: Kit, cast_m: float, tip_m: float) -> Technique:
    return Technique.steady(cast_m, tip_m, kit.angler.reel_speed_m_s)


def _depths(
    question: TableQuestion,
    kit: Kit,
    known: Learned,
    lures: tuple[Lure, ...],
    beliefs: list[LureBelief],
    lines: tuple[Line, ...],
    casts: tuple[float, ...],
    tips: tuple[float, ...],
) -> FloatArray:
    """Greatest depths, shape (lures, lines, casts, tips); NaN where the cast is out of reach."""
    water, drag = resolve_water(question.water)
    middle = middle_drag(drag, known.spread(InputSpread()))
    ways = [_technique(kit, cast, tip) for cast in casts for tip in tips]
    forces = [belief.centre for belief in beliefs]
    properties = [line_properties(line) for line in lines]
    batch = retrieve_batch(
        [lure for lure in forces for _ in properties for _ in ways],
        [line for _ in forces for line in properties for _ in ways],
        [way for _ in forces for _ in properties for way in ways],
        water=water,
        drags=middle,
        samples=2,
    )
    shape = (len(lures), len(lines), len(casts), len(tips))
    depth = np.where(batch.solved, batch.max_depth_m, np.nan).reshape(shape)
    for u, lure in enumerate(lures):
        own = cast_of(kit, lure, lure.mass_kg, rod_for(lure, kit.rods), None, 0.6).m
        depth[u, :, np.array(casts) > CAST_MARGIN * own] = np.nan
    return depth


def _band_shares(
    question: TableQuestion,
    kit: Kit,
    known: Learned,
    belief: LureBelief,
    line: Line,
    tip_m: float,
    casts_m: FloatArray,
    depth_m: FloatArray,
) -> FloatArray:
    """Shallow and deep end of the 90 % band as shares of the depth, shape (2, casts)."""
    water, drag = resolve_water(question.water)
    spread = known.spread(replace(InputSpread(), diameter_log_sd=line_spread(line).diameter_log_sd))
    within = np.flatnonzero(np.isfinite(depth_m))
    shares = np.ones((2, casts_m.size))
    if not within.size:
        return shares
    ends = sorted({int(within[0]), int(within[-1])})
    found = np.ones((2, len(ends)))
    for place, c in enumerate(ends):
        if not depth_m[c] > 0.0:
            continue
        way = _technique(kit, float(casts_m[c]), tip_m)
        band = quick_band(belief, line_properties(line), way, water, spread, drag).max_depth_m
        found[:, place] = band.low_90 / depth_m[c], band.high_90 / depth_m[c]
    for row in range(2):
        shares[row] = np.interp(casts_m, casts_m[ends], found[row])
    return np.stack((np.minimum(shares[0], 1.0), np.maximum(shares[1], 1.0)))


def _headline(table: DepthTable, units: DisplayUnits) -> str:
    deepest = np.unravel_index(int(np.nanargmax(table.depth_m)), table.depth_m.shape)
    u, n, c, t = (int(place) for place in deepest)
    lures, lines = (
        f"{len(of)} {word}{'s' * (len(of) != 1)}"
        for of, word in ((table.lures, "lure"), (table.lines, "line"))
    )
    return (
        f"{lures} on {lines}; the deepest is {table.lures[u]} on "
        f"{table.lines[n]} at {units.distance.text(float(table.casts_m[c]))}: "
        f"{units.depth.text(float(table.depth_m[u, n, c, t]))} "
        f"({units.depth.band(float(table.low_m[u, n, c, t]), float(table.high_m[u, n, c, t]))})."
    )
