"""Write down what was seen of a lure."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from leadsman.calibrate.learned import OBSERVATIONS_NAME
from leadsman.errors import InputError
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.observation import Observation
from leadsman.kitfile.observations import append_observation
from leadsman.usecases.resolve_setup import load_kit


@dataclass(frozen=True, slots=True)
class ObserveAnswer:
    """What was written down.

    Parameters
    ----------
    observation : Observation
        The observation as it will be read [-].
    path : pathlib.Path
        File it was added to [-].
    headline : str
        The answer in a sentence [-].
    """

    observation: Observation
    path: Path
    headline: str


def observations_path(kit: Kit) -> Path:
    """Where the observations of a kit stand.

    Parameters
    ----------
    kit : Kit
        The kit [-].

    Raises
    ------
    InputError
        It is the demo kit, which has no file of its own.
    """
    if kit.path is None:
        raise InputError(
            "observations stand beside a kit file of your own, and there is none here",
            "--kit",
            "Make one with: leadsman kit new",
        )
    return kit.path.parent / OBSERVATIONS_NAME


def observe(kit_path: Path | None, cells: dict[str, str]) -> ObserveAnswer:
    """Add an observation to the file beside the kit.

    Parameters
    ----------
    kit_path : pathlib.Path or None
        Kit file; None takes ``kit.toml`` here [-].
    cells : dict of str to str
        Text by column of the observations file; an empty date is today [-].

    Raises
    ------
    InputError
        There is no kit file of one's own, a name is not in it, or something
        given cannot be read.
    """
    kit, _ = load_kit(kit_path)
    path = observations_path(kit)
    kit.lure(cells["lure"])
    if cells.get("line"):
        kit.line(cells["line"])
    filled = {**cells, "date": cells.get("date") or date.today().isoformat()}
    observation = append_observation(path, filled)
    return ObserveAnswer(
        observation,
        path,
        f"Noted in {path.name}: {observation.lure}, {observation.kind}. "
        "What it taught: leadsman tune",
    )
