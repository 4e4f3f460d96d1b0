"""Is this kit file sound, and what does the program make of it?"""

from __future__ import annotations

import math
from dataclasses import dataclass
from pathlib import Path

from leadsman.calibrate.first_fit import LureFit, first_fit
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.template import write_new_kit
from leadsman.tackle.line import line_properties, line_spread
from leadsman.tackle.setup import Setup
from leadsman.usecases.resolve_setup import load_kit


@dataclass(frozen=True, slots=True)
class CheckedLure:
    """A lure and what the program takes its numbers to be.

    Parameters
    ----------
    name : str
        Name [-].
    dive_angle_deg, dive_angle_sd_deg : float
        Dive angle and its standard deviation [deg].
    pull_area_cm2, pull_area_log_sd : float
        Pull area [cm2] and the standard deviation of its logarithm [-].
    basis : str
        What they rest on [-].
    reached : bool
        False if its rated depth cannot be reached under the stated test [-].
    """

    name: str
    dive_angle_deg: float
    dive_angle_sd_deg: float
    pull_area_cm2: float
    pull_area_log_sd: float
    basis: str
    reached: bool


@dataclass(frozen=True, slots=True)
class CheckedLine:
    """A line and its diameter.

    Parameters
    ----------
    name : str
        Name [-].
    diameter_mm : float
        Diameter [mm].
    diameter_kind : str
        Where it comes from [-].
    diameter_log_sd : float
        Standard deviation of its logarithm [-].
    """

    name: str
    diameter_mm: float
    diameter_kind: str
    diameter_log_sd: float


@dataclass(frozen=True, slots=True)
class KitCheckAnswer:
    """A sound kit.

    Parameters
    ----------
    kit : Kit
        The kit [-].
    lures : tuple of CheckedLure
        Its lures [-].
    lines : tuple of CheckedLine
        Its lines [-].
    headline : str
        The answer in a sentence [-].
    cautions : tuple of str
        What does not go together [-].
    """

    kit: Kit
    lures: tuple[CheckedLure, ...]
    lines: tuple[CheckedLine, ...]
    headline: str
    cautions: tuple[str, ...]


def check_kit(path: Path | None) -> KitCheckAnswer:
    """Read a kit and say what the program makes of it.

    Parameters
    ----------
    path : pathlib.Path or None
        Kit file; None takes ``kit.toml`` here, else the demo kit [-].

    Raises
    ------
    KitError
        The file cannot be used.
    """
    kit, notes = load_kit(path)
    lures = tuple(_lure(lure.name, first_fit(lure)) for lure in kit.lures)
    lines = tuple(
        CheckedLine(
            line.name,
            line_properties(line).diameter_m * 1e3,
            line.diameter_kind,
            line_spread(line).diameter_log_sd,
        )
        for line in kit.lines
    )
    source = kit.path.name if kit.path else "The demo kit"
    headline = (
        f"{source} is sound: {len(kit.lures)} lures, {len(kit.lines)} lines, "
        f"{len(kit.reels)} reels, {len(kit.rods)} rods."
    )
    return KitCheckAnswer(kit, lures, lines, headline, (*notes, *_cautions(kit, lures)))


def start_kit(path: Path) -> str:
    """Write a commented example kit to edit.

    Parameters
    ----------
    path : pathlib.Path
        Where to write it; must not be there yet [-].

    Raises
    ------
    KitError
        The file is there already or cannot be written.
    """
    write_new_kit(path)
    return f"Wrote {path}: change it to what you own, then run: leadsman kit check {path}"


def _lure(name: str, fit: LureFit) -> CheckedLure:
    return CheckedLure(
        name,
        math.degrees(fit.forces.dive_angle_rad),
        math.degrees(fit.dive_angle_sd_rad),
        fit.forces.pull_area_m2 * 1e4,
        fit.log_pull_area_sd,
        fit.basis,
        fit.reached,
    )


def _cautions(kit: Kit, lures: tuple[CheckedLure, ...]) -> tuple[str, ...]:
    found = [
        f"{item.name}: its rated depth is out of reach under the stated test; check rated_depth, "
        "rated_line_test and rated_cast."
        for item in lures
        if not item.reached
    ]
    for lure in kit.lures:
        if kit.rods and not any(rod.throws(lure.mass_kg) for rod in kit.rods):
            found.append(f"{lure.name}: no rod of the kit is made for its mass.")
    for line in kit.lines:
        if line.diameter_kind != "measured":
            found.append(
                f"{line.name}: its diameter is {line.diameter_kind}; "
                "measuring it tightens every depth on it."
            )
    for combo in kit.combos:
        fits = [lure for lure in kit.lures if combo.rod.throws(lure.mass_kg)]
        if fits:
            setup = Setup(combo.rod, combo.reel, combo.line, fits[0])
            found += [
                f"combo {combo.name}: {text}." for text in setup.cautions(kit.angler.usual_cast_m)
            ]
    return tuple(found)
