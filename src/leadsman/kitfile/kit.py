"""The whole of what one person owns."""

from __future__ import annotations

import difflib
from collections.abc import Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Protocol, TypeVar

from leadsman.errors import KitError, Where
from leadsman.tackle.angler import Angler
from leadsman.tackle.line import Line
from leadsman.tackle.lure import Lure
from leadsman.tackle.reel import Reel
from leadsman.tackle.rod import Rod
from leadsman.tackle.setup import Combo


class _Named(Protocol):
    @property
    def name(self) -> str: ...


T = TypeVar("T", bound=_Named)


@dataclass(frozen=True, slots=True)
class Kit:
    """Lures, lines, reels and rods, and how they are put together.

    Parameters
    ----------
    lures : tuple of Lure
        Lures in the order of the file [-].
    lines : tuple of Line
        Lines [-].
    reels : tuple of Reel
        Reels [-].
    rods : tuple of Rod
        Rods [-].
    combos : tuple of Combo
        Rods with reel and line as they are put together now [-].
    angler : Angler
        The person [-].
    units : str
        Units of display, ``"us"`` or ``"metric"`` [-].
    path : pathlib.Path or None
        File it was read from [-].
    """

    lures: tuple[Lure, ...] = ()
    lines: tuple[Line, ...] = ()
    reels: tuple[Reel, ...] = ()
    rods: tuple[Rod, ...] = ()
    combos: tuple[Combo, ...] = ()
    angler: Angler = field(default_factory=Angler)
    units: str = "us"
    path: Path | None = None

    def lure(self, name: str) -> Lure:
        """Lure by name; raises `KitError` with the nearest name if there is none."""
        return self._find(name, self.lures, "lure")

    def line(self, name: str) -> Line:
        """Line by name; raises `KitError` with the nearest name if there is none."""
        return self._find(name, self.lines, "line")

    def reel(self, name: str) -> Reel:
        """Reel by name; raises `KitError` with the nearest name if there is none."""
        return self._find(name, self.reels, "reel")

    def rod(self, name: str) -> Rod:
        """Rod by name; raises `KitError` with the nearest name if there is none."""
        return self._find(name, self.rods, "rod")

    def combo(self, name: str) -> Combo:
        """Combo by name; raises `KitError` with the nearest name if there is none."""
        return self._find(name, self.combos, "combo")

    def _find(self, name: str, items: Sequence[T], kind: str) -> T:
        source = self.path.name if self.path else "kit"
        return find_named(name, items, kind, Where(source=source))


def find_named(name: str, items: Sequence[T], kind: str, where: Where) -> T:
    """One of several by name, whatever the case.

    Parameters
    ----------
    name : str
        Name that is looked for [-].
    items : sequence
        Things with names [-].
    kind : str
        What they are, for the message [-].
    where : Where
        Place for the message [-].

    Raises
    ------
    KitError
        None has this name; the message gives the nearest.
    """
    for item in items:
        if item.name == name:
            return item
    folded = name.strip().casefold()
    for item in items:
        if item.name.casefold() == folded:
            return item
    names = [item.name for item in items]
    shown = name[:60]
    raise KitError(f"there is no {kind} '{shown}'", where, suggestion(folded, names, kind))


def suggestion(word: str, names: Sequence[str], kind: str) -> str:
    """What to do about a name that is not there, as an imperative sentence.

    Parameters
    ----------
    word : str
        What was written [-].
    names : sequence of str
        What could have been meant [-].
    kind : str
        What they are [-].
    """
    if not names:
        return f"Add a {kind} to the kit first"
    by_fold = {name.casefold(): name for name in names}
    close = difflib.get_close_matches(word.casefold(), by_fold, n=1, cutoff=0.55)
    if close:
        return f"Perhaps '{by_fold[close[0]]}' is meant"
    listed = ", ".join(names[:8]) + (", ..." if len(names) > 8 else "")
    return f"Use one of {listed}"
