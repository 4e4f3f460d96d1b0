"""From names in a kit, or raw numbers, to what the physics and the bands need."""

from __future__ import annotations

from dataclasses import dataclass, replace
from pathlib import Path

from leadsman.calibrate.input_spread import InputSpread, LureBelief, LureSpread
from leadsman.calibrate.learned import Learned, learned
from leadsman.display_units import display_units
from leadsman.errors import InputError, KitError
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.read import read_kit
from leadsman.kitfile.template import demo_kit
from leadsman.tackle.line import Line, line_properties, line_spread
from leadsman.tackle.lure import Lure
from leadsman.tackle.reel import Reel
from leadsman.tackle.rod import Rod
from leadsman.usecases.questions import SetupQuestion

KIT_FILE = Path("kit.toml")


@dataclass(frozen=True, slots=True)
class ResolvedSetup:
    """Tackle with its numbers.

    Parameters
    ----------
    kit : Kit
        The kit it comes from [-].
    lure_name, line_name : str
        What to call them [-].
    belief : LureBelief
        What is believed of the lure [-].
    line : LineProperties
        The line [-].
    spread : InputSpread
        Spread of everything but the lure [-].
    lure : Lure or None
        The lure of the kit, None where numbers were given [-].
    kit_line : Line or None
        The line of the kit, None where numbers were given [-].
    rod : Rod or None
        The rod [-].
    reel : Reel or None
        The reel [-].
    notes : tuple of str
        What was assumed [-].
    observed : bool
        Whether the lure's numbers rest on observations [-].
    """

    kit: Kit
    lure_name: str
    line_name: str
    belief: LureBelief
    line: LineProperties
    spread: InputSpread
    lure: Lure | None = None
    kit_line: Line | None = None
    rod: Rod | None = None
    reel: Reel | None = None
    notes: tuple[str, ...] = ()
    observed: bool = False

    @property
    def forces(self) -> LureForces:
        """The lure at the middle of the belief."""
        return self.belief.centre


def load_kit(path: Path | None) -> tuple[Kit, tuple[str, ...]]:
    """The kit a person means.

    Parameters
    ----------
    path : pathlib.Path or None
        Kit file; None takes ``kit.toml`` here, else the demo kit [-].

    Returns
    -------
    tuple of Kit and tuple of str
        The kit, and what was assumed.

    Raises
    ------
    KitError
        The file cannot be used.
    """
    if path is not None:
        return read_kit(path), ()
    if KIT_FILE.exists():
        return read_kit(KIT_FILE), (f"Kit: {KIT_FILE} in this folder.",)
    return demo_kit(), ("Kit: the built-in demo kit, as there is no kit.toml in this folder.",)


def resolve_setup(question: SetupQuestion) -> ResolvedSetup:
    """Find the tackle and its numbers.

    Parameters
    ----------
    question : SetupQuestion
        Which tackle is meant [-].

    Raises
    ------
    InputError
        A name is unknown, or neither a name nor numbers are given.
    """
    by_numbers = question.raw_lure is not None and question.raw_line is not None
    notes: tuple[str, ...] = ()
    kit = Kit()
    if question.kit is not None or not by_numbers:
        kit, notes = load_kit(question.kit)
    if question.units is not None:
        kit = replace(kit, units=display_units(question.units).name)
    rod = kit.rod(question.rod) if question.rod else None
    reel = kit.reel(question.reel) if question.reel else None
    known = learned(kit)
    lure_name, lure, belief = _lure(question, kit, known)
    line_name, kit_line, line, spread = _line(question, kit)
    spread = known.spread(spread)
    observed = lure is not None and lure.name in known.observed
    if rod is None and reel is None and kit_line is not None:
        combo = next((c for c in kit.combos if c.line.name == kit_line.name), None)
        if combo is not None:
            rod, reel = combo.rod, combo.reel
            notes += (f"Rod and reel: {combo.rod.name} and {combo.reel.name}, which hold it now.",)
    return ResolvedSetup(
        kit, lure_name, line_name, belief, line, spread, lure, kit_line, rod, reel, notes, observed
    )


def _lure(question: SetupQuestion, kit: Kit, known: Learned) -> tuple[str, Lure | None, LureBelief]:
    if question.raw_lure is not None:
        raw = question.raw_lure
        forces = LureForces(raw.dive_angle_rad, raw.pull_area_m2, raw.mass_kg, raw.buoyancy_n)
        return "this lure", None, LureSpread(forces, 0.0, 0.0)
    if question.lure is None:
        raise InputError(
            "no lure is named",
            "--lure",
            f"Name one of {_names(kit.lures)}, or give --dive-angle and --pull-area",
        )
    lure = kit.lure(question.lure)
    return lure.name, lure, known.belief(lure)


def _line(
    question: SetupQuestion, kit: Kit
) -> tuple[str, Line | None, LineProperties, InputSpread]:
    if question.raw_line is not None:
        raw = question.raw_line
        properties = LineProperties(raw.diameter_m, raw.density_kg_m3, raw.modulus_pa)
        return f"{raw.diameter_m * 1e3:.2f} mm line", None, properties, InputSpread.of_measured()
    if question.line is None:
        raise InputError(
            "no line is named",
            "--line",
            f"Name one of {_names(kit.lines)}, or give --diameter",
        )
    line = kit.line(question.line)
    spread = replace(InputSpread(), diameter_log_sd=line_spread(line).diameter_log_sd)
    return line.name, line, line_properties(line), spread


def _names(items: tuple[Lure, ...] | tuple[Line, ...]) -> str:
    shown = ", ".join(item.name for item in items[:12])
    if not shown:
        raise KitError("the kit holds none", "kit", "Add lures and lines to the kit file")
    return shown + (", ..." if len(items) > 12 else "")
