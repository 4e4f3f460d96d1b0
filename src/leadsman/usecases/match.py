"""Over this bottom: which lure on which line, cast how far, with the rod where?"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace

from leadsman.calibrate.input_spread import InputSpread, LureBelief
from leadsman.calibrate.learned import Learned, learned
from leadsman.calibrate.running_band import RunningBand, running_band
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import InputError
from leadsman.hydro.cast_flight import Wind
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.technique import TakeUp, Technique
from leadsman.hydro.zone import ACCEPTABLE_LOAD
from leadsman.kitfile.kit import Kit
from leadsman.plan.candidates import Candidate, LineOption, LureOption
from leadsman.plan.match import match
from leadsman.plan.match_types import DepthBand, Match, MatchRequest, MatchResult
from leadsman.tackle.line import Line, line_properties, line_spread
from leadsman.tackle.line_materials import MATERIALS
from leadsman.tackle.lure import Lure
from leadsman.tackle.reel import Reel
from leadsman.tackle.rod import BENT_PULL_N, Rod
from leadsman.usecases.questions import BottomQuestion, SetupQuestion, WaterQuestion
from leadsman.usecases.resolve_bottom import (
    ResolvedBottom,
    middle_drag,
    resolve_bottom,
    resolve_water,
)
from leadsman.usecases.resolve_setup import load_kit
from leadsman.usecases.resolve_technique import cast_of, resolve_tip_m

PICTURE_DRAWS = 64
"""Draws for the band of one setup in a picture [-]."""

CAST_SHARES = (1.0, 0.75, 0.5)
"""Casts tried where none are named, as shares of the angler's own full cast [-]."""

TIPS = ("under", "low", "usual", "high")
"""Rod positions tried where none are named."""

POINTS_PER_HOOK = 3
"""The kit counts a treble as one hook, grass meets its three points [-]."""

UNKNOWN_BREAKING_N = 53.0
"""Strength taken for a line that is given by its numbers only: 12 lb [N]."""

SPREAD_DRAWS = 32
"""Draws for the error of a lure's depth in the ranking [-]."""


@dataclass(frozen=True, slots=True)
class MatchQuestion:
    """What to match the tackle to.

    Parameters
    ----------
    setup : SetupQuestion
        The kit; a lure, line, rod or reel named here is the only one tried [-].
    bottom : BottomQuestion
        What lies under the cast [-].
    water : WaterQuestion
        The water [-].
    casts_m : tuple of float
        Casts allowed, tip to lure; empty takes shares of the angler's own [m].
    tips : tuple of str or float
        Rod positions allowed, words or heights [m].
    load_limit : float
        Largest contact load that counts as light [-].
    target_m : tuple of float or None
        Depth band to be in instead [m].
    boat_m_s : float
        Drift of the boat toward the lure [m s-1].
    """

    setup: SetupQuestion = field(default_factory=SetupQuestion)
    bottom: BottomQuestion = field(default_factory=BottomQuestion)
    water: WaterQuestion = field(default_factory=WaterQuestion)
    casts_m: tuple[float, ...] = ()
    tips: tuple[str | float, ...] = TIPS
    load_limit: float = ACCEPTABLE_LOAD
    target_m: tuple[float, float] | None = None
    boat_m_s: float = 0.0


@dataclass(frozen=True, slots=True)
class MatchAnswer:
    """The ranking, with what is needed to draw it.

    Parameters
    ----------
    question : MatchQuestion
        What was asked [-].
    kit : Kit
        The kit [-].
    result : MatchResult
        The ranking [-].
    ground : ResolvedBottom
        The bottom and how it was found [-].
    candidates : tuple of Candidate
        What was ranked [-].
    notes : tuple of str
        What was read and assumed [-].
    """

    question: MatchQuestion
    kit: Kit
    result: MatchResult
    ground: ResolvedBottom
    candidates: tuple[Candidate, ...]
    notes: tuple[str, ...]

    @property
    def units(self) -> DisplayUnits:
        """Units the person reads in."""
        return self.result.request.units

    def band_of(self, found: Match) -> RunningBand:
        """Where one ranked setup may run, over the bottom if there is one.

        Parameters
        ----------
        found : Match
            One of the ranked setups [-].
        """
        known, question = learned(self.kit), self.question
        line = self.kit.line(found.line)
        spread = replace(InputSpread(), diameter_log_sd=line_spread(line).diameter_log_sd)
        if question.water.normal_constant is not None:
            spread = replace(spread, normal_log_sd=0.0, vibration_rise_mean=0.0)
        water, drag = resolve_water(question.water)
        return running_band(
            known.belief(self.kit.lure(found.lure)), line_properties(line), found.technique,
            self.ground.bottom, water, known.spread(spread), drag, n=PICTURE_DRAWS,
            target_m=question.target_m, limit=question.load_limit,
        )  # fmt: skip

    def path_of(self, found: Match) -> Retrieve:
        """The retrieve of one ranked setup, computed again.

        Parameters
        ----------
        found : Match
            One of the ranked setups [-].
        """
        candidate = next(
            c for c in self.candidates if (c.lure.name, c.line.name) == (found.lure, found.line)
        )
        request = self.result.request
        return retrieve(
            candidate.lure.forces,
            candidate.line.properties,
            found.technique,
            self.ground.bottom,
            request.water,
            request.drag,
        )


def find_match(
    question: MatchQuestion,
    wind: Wind | None = None,
    progress: Callable[[float, str], None] | None = None,
) -> MatchAnswer:
    """Rank every lure on every line over a bottom or for a depth band.

    Parameters
    ----------
    question : MatchQuestion
        Kit, bottom and what is allowed [-].
    wind : Wind or None
        Wind as the caster meets it; None is calm [-].
    progress : callable or None
        Takes the share that is done and what is being done [-].

    Raises
    ------
    InputError
        Something given cannot be used.
    """
    kit, notes = load_kit(question.setup.kit)
    units = display_units(question.setup.units or kit.units)
    lures, lines = _chosen(question.setup, kit)
    rods, reels = _rods_and_reels(question.setup, kit)
    known = learned(kit)
    candidates = tuple(
        candidate
        for lure in lures
        for candidate in _candidates_of(lure, lines, rods, reels, kit, question, wind, known)
    )
    longest = max(cast for candidate in candidates for cast in candidate.casts_m)
    ground = resolve_bottom(question.bottom, longest)
    if ground.bottom is None and question.target_m is None:
        raise InputError(
            "there is nothing to match the kit to",
            "--bottom",
            "Give a bottom such as --bottom '10 ft', soundings, or a band such as --target 18-22ft",
        )
    water, drag = resolve_water(question.water)
    request = MatchRequest(
        bottom=ground.bottom,
        band=DepthBand(*question.target_m) if question.target_m else None,
        limit_load=question.load_limit,
        water=water,
        drag=middle_drag(drag, known.spread(InputSpread())),
        units=units,
    )
    result = match(request, candidates, progress)
    notes = (*notes, *ground.notes, *_cast_notes(kit, wind, units))
    return MatchAnswer(question, kit, result, ground, candidates, notes)


def _chosen(setup: SetupQuestion, kit: Kit) -> tuple[tuple[Lure, ...], tuple[Line, ...]]:
    lures = (kit.lure(setup.lure),) if setup.lure else kit.lures
    lines = (kit.line(setup.line),) if setup.line else kit.lines
    for what, items in (("lures", lures), ("lines", lines)):
        if not items:
            raise InputError(
                f"the kit has no {what}", str(kit.path or "kit"), f"Add {what} to the kit file"
            )
    return lures, lines


def _rods_and_reels(setup: SetupQuestion, kit: Kit) -> tuple[tuple[Rod, ...], tuple[Reel, ...]]:
    rods = (kit.rod(setup.rod),) if setup.rod else kit.rods
    reels = (kit.reel(setup.reel),) if setup.reel else kit.reels
    return rods, reels


def rod_for(lure: Lure, rods: tuple[Rod, ...]) -> Rod | None:
    """The longest rod made for a lure, as it casts farthest; None if there is none.

    Parameters
    ----------
    lure : Lure
        The lure [-].
    rods : tuple of Rod
        Rods to choose from [-].
    """
    fits = [rod for rod in rods if rod.throws(lure.mass_kg)]
    return max(fits, key=lambda rod: rod.length_m) if fits else None


def reel_for(line: Line, reels: tuple[Reel, ...], kit: Kit) -> Reel | None:
    """The reel that holds a line now, else the one with the most room for it.

    Parameters
    ----------
    line : Line
        The line [-].
    reels : tuple of Reel
        Reels to choose from [-].
    kit : Kit
        The kit, for what is spooled now [-].
    """
    spooled = [c.reel for c in kit.combos if c.line.name == line.name and c.reel in reels]
    if spooled:
        return spooled[0]
    diameter_m = line_properties(line).diameter_m
    return max(reels, key=lambda reel: reel.capacity_for_m(diameter_m)) if reels else None


def _candidates_of(
    lure: Lure,
    lines: tuple[Line, ...],
    rods: tuple[Rod, ...],
    reels: tuple[Reel, ...],
    kit: Kit,
    question: MatchQuestion,
    wind: Wind | None,
    known: Learned,
) -> list[Candidate]:
    rod = rod_for(lure, rods)
    if rod is None and rods:
        rod = max(rods, key=lambda item: item.lure_max_kg)
    rod_m = rod.length_m if rod else 2.3
    tips = tuple(resolve_tip_m(tip, rod_m, kit.angler) for tip in question.tips)
    belief = known.belief(lure)
    casts = question.casts_m or _own_casts(lure, rod, kit, wind)
    option = LureOption(
        lure.name,
        belief.centre,
        POINTS_PER_HOOK * lure.open_hooks,
        depth_rel_se(belief, lines[0], casts[0]),
    )
    made: list[Candidate] = []
    for line in lines:
        properties = line_properties(line)
        reel = reel_for(line, reels, kit)
        take_up = reel.take_up(properties.diameter_m) if reel else None
        made.append(
            Candidate(
                option,
                LineOption(line.name, properties, breaking_n(line)),
                casts,
                tips,
                reel_rate=_reel_rate(kit.angler.reel_speed_m_s, take_up, casts[0]),
                take_up=take_up,
                boat_m_s=question.boat_m_s,
                rod=rod.name if rod else "",
                rod_power_n=BENT_PULL_N[rod.power] if rod else 45.0,
            )
        )
    return made


def _own_casts(lure: Lure, rod: Rod | None, kit: Kit, wind: Wind | None) -> tuple[float, ...]:
    full = cast_of(kit, lure, lure.mass_kg, rod, wind, 0.6).m
    return tuple(max(full * share, 5.0) for share in CAST_SHARES)


def _reel_rate(speed_m_s: float, take_up: TakeUp | None, cast_m: float) -> float:
    """Turns per second that take in line at the angler's pace half way, or that pace."""
    return speed_m_s / take_up.per_turn_m(0.5 * cast_m) if take_up else speed_m_s


def breaking_n(line: Line) -> float:
    """Breaking strength: its test, else what its section carries [N].

    Parameters
    ----------
    line : Line
        The line [-].
    """
    if line.test_n is not None:
        return line.test_n
    return MATERIALS[line.material].strength_pa * line_properties(line).section_m2


def depth_rel_se(belief: LureBelief, line: Line, cast_m: float) -> float:
    """Relative standard error of a lure's running depth, from a quick band.

    Parameters
    ----------
    belief : LureBelief
        What is believed of the lure [-].
    line : Line
        A line it may be fished on [-].
    cast_m : float
        Length of the cast [m].
    """
    band = running_band(
        belief, line_properties(line), Technique.steady(cast_m), n=SPREAD_DRAWS
    ).max_depth_m
    half = 0.5 * (band.high_50 - band.low_50) / 0.6745
    return min(max(half / max(band.median, 0.1), 0.02), 0.5)


def _cast_notes(kit: Kit, wind: Wind | None, units: DisplayUnits) -> tuple[str, ...]:
    basis = (
        f"{len(kit.angler.casts)} casts you measured"
        if kit.angler.casts
        else "a usual caster, as the kit holds no measured casts"
    )
    air = (
        "calm air"
        if wind is None
        else f"wind of {units.speed.text(math.hypot(wind.ahead_m_s, wind.right_m_s))}"
    )
    return (f"Casts: from {basis}, in {air}.",)
