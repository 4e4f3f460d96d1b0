"""Which line of a TOML file a field stands on."""

from __future__ import annotations

import re
import tomllib

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(?:#.*)?$")
_KEY = re.compile(r"^\s*((?:[A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*')(?:\s*\.\s*(?:[A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*'))*)\s*=")  # fmt: skip  # noqa: E501

Path = tuple[str | int, ...]


def line_of(text: str, path: Path) -> int | None:
    """Line of a field, or of the nearest table above it.

    Parameters
    ----------
    text : str
        The whole file [-].
    path : tuple of str or int
        Keys from the top, with the position inside arrays of tables [-].

    Returns
    -------
    int or None
        Line counted from 1; None if not even its first key is there [-].
    """
    best: tuple[int, int] | None = None
    counts: dict[tuple[str, ...], int] = {}
    table: Path = ()
    quotes: str | None = None
    for number, line in enumerate(text.splitlines(), start=1):
        if quotes is not None:
            quotes = None if quotes in line else quotes
            continue
        found: Path | None = None
        header = _HEADER.match(line)
        if header:
            keys = _keys(f"[{header[2]}]")
            table = keys
            if header[1] == "[[":
                counts[keys] = counts.get(keys, -1) + 1
                table = (*keys, counts[keys])
            found = table
        elif key := _KEY.match(line):
            found = (*table, *_keys(f"{key[1]} = 0"))
        if found:
            depth = _shared(found, path)
            if depth in (len(found), len(path)) and (best is None or depth > best[0]):
                best = (depth, number)
        for mark in ('"""', "'''"):
            if line.count(mark) == 1:
                quotes = mark
    return best[1] if best else None


def _keys(snippet: str) -> tuple[str, ...]:
    try:
        node = tomllib.loads(snippet)
    except tomllib.TOMLDecodeError:
        return ()
    keys: list[str] = []
    while isinstance(node, dict) and node:
        key = next(iter(node))
        keys.append(key)
        node = node[key]
    return tuple(keys)


def _shared(found: Path, path: Path) -> int:
    depth = 0
    for a, b in zip(found, path, strict=False):
        if a != b:
            break
        depth += 1
    return depth
