"""The demo kit that comes with the program."""

from __future__ import annotations

from importlib import resources
from pathlib import Path

from leadsman.errors import KitError
from leadsman.kitfile.atomic import write_text_atomic
from leadsman.kitfile.kit import Kit
from leadsman.kitfile.read import parse_kit


def demo_kit_text() -> str:
    """Text of the demo kit, with its notes for a hand editor [-]."""
    return resources.files("leadsman.kitfile").joinpath("demo_kit.toml").read_text("utf-8")


def demo_kit() -> Kit:
    """The demo kit [-]."""
    return parse_kit(demo_kit_text())


def write_new_kit(path: Path) -> None:
    """Write the demo kit as a start for one's own.

    Parameters
    ----------
    path : pathlib.Path
        File to write; it must not be there yet [-].

    Raises
    ------
    KitError
        The file is there already or cannot be written.
    """
    if Path(path).exists():
        raise KitError("there is a file already", str(path), "Choose another name")
    write_text_atomic(path, demo_kit_text())
