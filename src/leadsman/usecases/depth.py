"""How deep does this setup run, and how long is it where it should be?"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np

from leadsman.calibrate.running_band import RunningBand, running_band
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import TechniqueError
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.cast_flight import Wind
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.technique import Technique
from leadsman.hydro.zone import NEAR_BOTTOM_M, ContactZone, contact_zone, zone_in_band
from leadsman.usecases.questions import DepthQuestion
from leadsman.usecases.resolve_bottom import middle_drag, resolve_bottom, resolve_water
from leadsman.usecases.resolve_setup import ResolvedSetup, resolve_setup
from leadsman.usecases.resolve_technique import resolve_technique

HALF_90 = 1.645
"""Half of the central 90 % band of a normal law, in standard deviations [-]."""

BAND_DRAWS = 128
"""Draws of the band shown with one depth: its ends move by some 3 % of its width [-]."""


@dataclass(frozen=True, slots=True)
class DepthAnswer:
    """The running depth of one setup.

    Parameters
    ----------
    question : DepthQuestion
        What was asked [-].
    setup : ResolvedSetup
        The tackle with its numbers [-].
    technique : Technique
        How it was fished [-].
    path : Retrieve
        The retrieve over the bottom, or free of one [-].
    free : Retrieve
        The same free of any bottom [-].
    bottom : BottomProfile or None
        The bottom [-].
    band : RunningBand
        Bands of depth and zone length [-].
    contact : ContactZone or None
        Contact with the bottom; None without one [-].
    zone_kind : str
        What `zone_m` counts: ``contact``, ``band`` or ``near greatest depth`` [-].
    zone_m : float
        Zone length [m].
    headline : str
        The answer in a sentence [-].
    notes : tuple of str
        What was read and assumed [-].
    cautions : tuple of str
        What to mind [-].
    """

    question: DepthQuestion
    setup: ResolvedSetup
    technique: Technique
    path: Retrieve
    free: Retrieve
    bottom: BottomProfile | None
    band: RunningBand
    contact: ContactZone | None
    zone_kind: str
    zone_m: float
    headline: str
    notes: tuple[str, ...]
    cautions: tuple[str, ...]

    @property
    def units(self) -> DisplayUnits:
        """Units the person reads in."""
        return display_units(self.setup.kit.units)

    @property
    def dive_angle_deg(self) -> float:
        """Dive angle used [deg]."""
        return math.degrees(self.setup.forces.dive_angle_rad)

    @property
    def fished_depth_band_m(self) -> tuple[float, float]:
        """Central 90 % band of the greatest depth as fished, ended by the bottom [m]."""
        free = self.band.max_depth_m
        if self.bottom is None:
            return free.low_90, free.high_90
        over = self.bottom.x_m <= self.technique.cast_m
        depth = self.bottom.depth_m[over] if np.any(over) else self.bottom.depth_m[:1]
        error = 0.0
        if self.bottom.depth_se_m is not None:
            error = HALF_90 * float(np.max(self.bottom.depth_se_m))
        floor = max(float(np.max(depth)), self.path.max_depth_m)
        low, high = min(free.low_90, floor - error), min(free.high_90, floor + error)
        return min(low, self.path.max_depth_m), max(high, self.path.max_depth_m)

    @property
    def band_basis(self) -> str:
        """What the bands rest on."""
        if self.setup.lure is None:
            return "the lure's numbers taken as exact"
        if self.setup.observed:
            return "what you observed of this lure"
        return "size and package of the lure only, nothing observed yet"


def find_depth(
    question: DepthQuestion, wind: Wind | None = None, draws: int = BAND_DRAWS
) -> DepthAnswer:
    """Running depth, band, contact and zone of one setup.

    Parameters
    ----------
    question : DepthQuestion
        Tackle, technique, bottom and water [-].
    wind : Wind or None
        Wind as the caster meets it; None is calm [-].
    draws : int
        Draws of the band, even; fewer while a control is being moved [-].

    Raises
    ------
    InputError
        Something given cannot be used.
    """
    if not 0.0 < question.load_limit <= 1.0:
        raise TechniqueError(
            f"a load limit of {question.load_limit:.3g} is outside 0 to 1",
            "--load-limit",
            "Give a share of the pull such as 0.12",
        )
    setup = resolve_setup(question.setup)
    fished = resolve_technique(question.technique, setup, wind)
    technique = fished.technique
    ground = resolve_bottom(question.bottom, technique.cast_m)
    water, drag = resolve_water(question.water)
    spread = setup.spread
    middle = middle_drag(drag, spread)
    free = retrieve(setup.forces, setup.line, technique, None, water, middle)
    path = free
    if ground.bottom is not None:
        path = retrieve(setup.forces, setup.line, technique, ground.bottom, water, middle)
    if fished.cast_log_sd is not None:
        spread = replace(spread, cast_log_sd=fished.cast_log_sd)
    if drag.normal_constant is not None:
        spread = replace(spread, normal_log_sd=0.0, vibration_rise_mean=0.0)
    band = running_band(
        setup.belief, setup.line, technique, ground.bottom, water, spread, drag,
        n=draws, target_m=question.target_m, limit=question.load_limit,
    )  # fmt: skip
    contact = None
    if ground.bottom is not None:
        contact = contact_zone(path, ground.bottom, question.load_limit)
    kind, zone_m = _zone(question, path, contact)
    units = display_units(setup.kit.units)
    answer = DepthAnswer(
        question=question,
        setup=setup,
        technique=technique,
        path=path,
        free=free,
        bottom=ground.bottom,
        band=band,
        contact=contact,
        zone_kind=kind,
        zone_m=zone_m,
        headline="",
        notes=(*setup.notes, *fished.notes, *ground.notes),
        cautions=_cautions(path, setup, technique, band, ground.bottom, units),
    )
    return replace(
        answer,
        headline=_headline(answer, fished.tip_words),
        notes=(*answer.notes, _band_note(answer)),
    )


def _zone(
    question: DepthQuestion, path: Retrieve, contact: ContactZone | None
) -> tuple[str, float]:
    if question.target_m is not None:
        return "band", zone_in_band(path, *question.target_m, limit=question.load_limit).zone_m
    if contact is not None:
        return "contact", contact.zone_m
    deepest = path.max_depth_m
    held = zone_in_band(path, max(deepest - NEAR_BOTTOM_M, 0.0), deepest + NEAR_BOTTOM_M)
    return "near greatest depth", held.zone_m


def _headline(answer: DepthAnswer, tip_words: str) -> str:
    units, technique = answer.units, answer.technique
    tip = f"tip {tip_words}" if tip_words else _tip_words(technique.tip_m, units)
    setup = (
        f"{answer.setup.lure_name} on {answer.setup.line_name}, "
        f"{units.distance.text(technique.cast_m)}, {tip}"
    )
    deep = answer.band.max_depth_m
    plan = f"plan on {units.depth.band(deep.low_50, deep.high_50)}"
    zone = units.distance.text(answer.zone_m)
    if answer.zone_kind == "band" and answer.question.target_m is not None:
        wanted = units.depth.band(*answer.question.target_m)
        return (
            f"{setup}: in {wanted} for {zone} of each cast; it can run to {_free(answer)}; {plan}."
        )
    if answer.contact is None:
        return (
            f"{setup}: runs to {_free(answer)} and stays within a foot of that for {zone}; {plan}."
            if units.name == "us"
            else f"{setup}: runs to {_free(answer)}, within 0.3 m of it for {zone}; {plan}."
        )
    if answer.contact.contact_m <= 0.0:
        gap = float(np.min(_gap(answer.path, answer.bottom)))
        return (
            f"{setup}: never touches; it runs to {_free(answer)} and passes "
            f"{units.depth.text(gap)} above the bottom at the nearest; {plan}."
        )
    ticking = f"ticks for {zone} of each cast"
    if answer.contact.plowing_m > answer.contact.zone_m:
        ticking = f"plows for {units.distance.text(answer.contact.plowing_m)} and {ticking}"
    likely = units.depth.band(deep.low_50, deep.high_50)
    return f"{setup}: {ticking}; free it would run to {_free(answer)}, likely {likely}."


def _free(answer: DepthAnswer) -> str:
    return answer.units.depth.text(answer.free.max_depth_m)


def _tip_words(tip_m: float, units: DisplayUnits) -> str:
    return f"tip {units.depth.text(abs(tip_m))} {'under water' if tip_m < 0.0 else 'up'}"


def _gap(path: Retrieve, bottom: BottomProfile | None) -> np.ndarray:
    if bottom is None:
        return np.array([np.inf])
    return np.asarray(bottom.depth_at(path.x_m) - path.depth_m)


def _band_note(answer: DepthAnswer) -> str:
    parts = ", ".join(
        f"{share.name} {share.fraction * 100:.0f} %" for share in answer.band.shares[:3]
    )
    return f"Basis of the band: {answer.band_basis}. Its doubt comes from {parts}."


def _grass_words(
    path: Retrieve, setup: ResolvedSetup, bottom: BottomProfile, units: DisplayUnits
) -> str:
    """What the grass does to this cast."""
    from leadsman.hydro.fouling import ClearingTackle, clean_zone
    from leadsman.hydro.path_batch import PathBatch
    from leadsman.tackle.rod import BENT_PULL_N
    from leadsman.usecases.match import POINTS_PER_HOOK, UNKNOWN_BREAKING_N, breaking_n

    assert bottom.grass is not None
    tackle = ClearingTackle(
        breaking_n=breaking_n(setup.kit_line) if setup.kit_line else UNKNOWN_BREAKING_N,
        stiffness_n=setup.line.stiffness_n,
        open_hooks=POINTS_PER_HOOK * (setup.lure.open_hooks if setup.lure else 2),
        rod_power_n=BENT_PULL_N[setup.rod.power if setup.rod else "medium heavy"],
    )
    found = clean_zone(PathBatch.of([path]), bottom.grass, bottom, tackle)
    return (
        f"In the grass it works {units.distance.text(float(found.clean_zone_m[0]))} clean, with a "
        f"{units.share.text(float(found.lost_chance[0]))} chance that grass ends the cast "
        "(assumed coefficients, no published source)."
    )


def _cautions(
    path: Retrieve,
    setup: ResolvedSetup,
    technique: Technique,
    band: RunningBand,
    bottom: BottomProfile | None,
    units: DisplayUnits,
) -> tuple[str, ...]:
    found: list[str] = []
    if path.line_touches:
        found.append(
            "The line itself touches something between tip and lure; that is not solved, "
            "so trust the depth only before it does."
        )
    if path.grounded:
        found.append("The lure runs aground before it is home.")
    if (
        setup.lure is not None
        and setup.rod is not None
        and not setup.rod.throws(setup.lure.mass_kg)
    ):
        found.append(f"{setup.lure.name} is outside the lure masses of rod {setup.rod.name}.")
    if setup.reel is not None:
        holds_m = setup.reel.capacity_for_m(setup.line.diameter_m)
        if technique.cast_m > 0.8 * holds_m:
            found.append(
                f"Reel {setup.reel.name} holds {units.distance.text(holds_m)} of this line; "
                "the cast nearly empties it."
            )
    if bottom is not None and 0.1 < band.touch_chance < 0.9:
        found.append(
            f"It is not sure to touch: {band.touch_chance * 100:.0f} in 100 within the band do."
        )
    if bottom is not None and bottom.grass is not None:
        found.append(_grass_words(path, setup, bottom, units))
    found.append("Depths are estimates, not for navigation; stumps and shallows differ.")
    return tuple(found)
