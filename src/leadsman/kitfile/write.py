"""Change a kit file and keep its comments, order and layout."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from leadsman.errors import KitError, Where
from leadsman.kitfile.atomic import write_text_atomic
from leadsman.kitfile.kit import Kit, suggestion
from leadsman.kitfile.read import parse_kit, read_text
from leadsman.kitfile.schema import TABLES

FieldValue = str | int | bool


def set_fields(path: Path, kind: str, name: str, fields: Mapping[str, FieldValue | None]) -> Kit:
    """Set fields of one named thing in a kit file, adding the thing if it is new.

    The new text is read back before anything is written, so that a mistake
    leaves the file as it was.

    Parameters
    ----------
    path : pathlib.Path
        Kit file [-].
    kind : str
        ``"lures"``, ``"lines"``, ``"reels"``, ``"rods"`` or ``"combos"`` [-].
    name : str
        Name in the kit [-].
    fields : mapping of str to str, int, bool or None
        Fields as they stand in the file, such as ``{"mass": "1/2 oz"}``; None
        removes one [-].

    Returns
    -------
    Kit
        The kit as it is now.

    Raises
    ------
    KitError
        The file cannot be read or written, or the change makes it wrong.
    """

    def change(document: Any) -> None:
        import tomlkit

        if kind not in document:
            document.add(kind, tomlkit.table(is_super_table=True))
        things = document[kind]
        if name not in things:
            things.add(name, tomlkit.table())
        thing = things[name]
        for field, value in fields.items():
            if value is None:
                thing.pop(field, None)
            else:
                thing[field] = value

    _check_kind(kind)
    return _rewrite(Path(path), change)


def remove(path: Path, kind: str, name: str) -> Kit:
    """Take one named thing out of a kit file.

    Parameters
    ----------
    path : pathlib.Path
        Kit file [-].
    kind : str
        ``"lures"``, ``"lines"``, ``"reels"``, ``"rods"`` or ``"combos"`` [-].
    name : str
        Name in the kit [-].

    Raises
    ------
    KitError
        There is no such thing, or the file cannot be read or written.
    """

    def change(document: Any) -> None:
        names = list(document.get(kind, {}))
        if name not in names:
            raise KitError(
                f"there is no '{name[:60]}' under {kind}",
                Where(str(path), None, kind),
                suggestion(name, names, kind.rstrip("s")),
            )
        document[kind].remove(name)

    _check_kind(kind)
    return _rewrite(Path(path), change)


def _check_kind(kind: str) -> None:
    if kind not in TABLES:
        raise KitError(f"a kit has no {kind}", None, suggestion(kind, list(TABLES), "table"))


def _rewrite(path: Path, change: Any) -> Kit:
    import tomlkit
    from tomlkit.exceptions import TOMLKitError

    text = read_text(path)
    parse_kit(text, path)  # refuse to touch a file that is wrong already
    newline = "\r\n" if "\r\n" in text else "\n"
    try:
        document = tomlkit.parse(text)
        change(document)
        new_text = tomlkit.dumps(document)
    except TOMLKitError as error:
        raise KitError(f"the file cannot be changed: {error}", str(path)) from None
    if newline == "\r\n":
        new_text = new_text.replace("\r\n", "\n").replace("\n", "\r\n")
    kit = parse_kit(new_text, path)
    write_text_atomic(path, new_text)
    return kit
