"""What is believed of every lure of a kit now, from what was seen of them or before."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import lru_cache
from pathlib import Path

from leadsman.calibrate.cases import lure_cases
from leadsman.calibrate.depth_test import fill_test
from leadsman.calibrate.first_fit import first_fit
from leadsman.calibrate.input_spread import InputSpread, LureBelief, LureSpread
from leadsman.calibrate.posterior import DragBelief
from leadsman.calibrate.tune import Reference, Tuning, tune
from leadsman.calibrate.tuned_store import load_tuning, save_tuning, tuning_key
from leadsman.hydro.technique import Technique
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.observations import read_observations
from leadsman.tackle.line import line_properties
from leadsman.tackle.lure import DepthTest, Lure

OBSERVATIONS_NAME = "observations.csv"
"""Name of the observations file beside the kit file."""
STORE_NAME = ".leadsman-tuned.npz"
"""Name of the file beside it that spares time; may be deleted at any time."""


@dataclass(frozen=True, slots=True)
class Learned:
    """Beliefs about the lures of a kit.

    Parameters
    ----------
    observed : dict of str to LureBelief
        Beliefs of the lures of which something was seen, by name [-].
    drag : DragBelief or None
        Drag of the line as learned; None if nothing was seen [-].
    """

    observed: dict[str, LureBelief] = field(default_factory=dict)
    drag: DragBelief | None = None

    def belief(self, lure: Lure) -> LureBelief:
        """What is believed of a lure: learned, or its first fit.

        Parameters
        ----------
        lure : Lure
            Lure of the kit [-].
        """
        known = self.observed.get(lure.name)
        return known if known is not None else _unobserved(lure)

    def spread(self, spread: InputSpread) -> InputSpread:
        """Spread of inputs with the drag of the line as learned.

        Parameters
        ----------
        spread : InputSpread
            Spread of everything but the lure [-].
        """
        return spread if self.drag is None else self.drag.learned(spread)


@lru_cache(maxsize=512)
def _unobserved(lure: Lure) -> LureBelief:
    """The first fit takes solver runs and rests on the lure alone."""
    return LureSpread.of(first_fit(lure))


def usual_setup(kit: Kit, lure: Lure) -> Reference:
    """Setup on which a lure's band is reported: a line of the kit, the angler's own cast.

    The line is that of the first combo whose rod throws the lure, else the
    first of the kit.

    Parameters
    ----------
    kit : Kit
        Kit [-].
    lure : Lure
        Lure [-].
    """
    combo = next((c for c in kit.combos if c.rod.throws(lure.mass_kg)), None)
    line = combo.line if combo is not None else kit.lines[0] if kit.lines else None
    test = fill_test(DepthTest(), lure.mass_kg)
    way = Technique.steady(
        min(kit.angler.usual_cast_m, test.technique.cast_m),
        test.technique.tip_m,
        kit.angler.reel_speed_m_s,
    )
    return Reference(line_properties(line) if line is not None else test.line, way)


def tune_kit(
    kit: Kit,
    observations: Path,
    progress: Callable[[str], None] | None = None,
    reference: Callable[[Lure], Reference] | None = None,
) -> Tuning:
    """Learn the lures of a kit that were observed, and keep the result beside the file.

    Parameters
    ----------
    kit : Kit
        Kit [-].
    observations : pathlib.Path
        Observations file [-].
    progress : callable or None
        Told the name of each lure as it is begun [-].
    reference : callable or None
        Setup of the reported bands; `usual_setup` unless given [-].

    Raises
    ------
    LogError
        The file cannot be read, or names what is not in the kit.
    """
    rows = read_observations(observations)
    cases = [case for case in lure_cases(kit, rows, str(observations)) if case.observed]
    tuning = tune(cases, reference or (lambda lure: usual_setup(kit, lure)), progress)
    if cases:
        save_tuning(observations.parent / STORE_NAME, tuning, tuning_key(kit, rows))
    return tuning


def learned(
    kit: Kit, observations: Path | None = None, progress: Callable[[str], None] | None = None
) -> Learned:
    """What is believed of the lures of a kit now.

    Parameters
    ----------
    kit : Kit
        Kit [-].
    observations : pathlib.Path or None
        Observations file; None looks beside the kit file [-].
    progress : callable or None
        Told the name of each lure that has to be learned anew [-].

    Raises
    ------
    LogError
        The file cannot be read, or names what is not in the kit.
    """
    if observations is None:
        if kit.path is None:
            return Learned()
        observations = kit.path.parent / OBSERVATIONS_NAME
    rows = read_observations(observations)
    if not rows:
        return Learned()
    stored = load_tuning(observations.parent / STORE_NAME, kit, tuning_key(kit, rows))
    if stored is not None:
        return Learned(dict(stored.beliefs), stored.drag)
    tuning = tune_kit(kit, observations, progress)
    if not tuning.lures:
        return Learned()
    return Learned({item.lure.name: item.belief for item in tuning.lures}, tuning.drag)
