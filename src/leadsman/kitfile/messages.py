"""From what pydantic or the TOML reader found wrong to one message a person can act on."""

from __future__ import annotations

import difflib
import re
import tomllib
from collections.abc import Callable
from typing import Any

from pydantic import BaseModel, ValidationError

from leadsman.errors import KitError, Where
from leadsman.kitfile.kit import suggestion
from leadsman.kitfile.locate import line_of
from leadsman.kitfile.schema import TABLES, AnglerTable, CastTable, KitTable

Loc = tuple[str | int, ...]

_AT = re.compile(r"\s*\(at line (\d+), column \d+\)|\s*\(at end of document\)")
_PLAIN_TYPES = {
    "string_type": "needs text in quotes",
    "int_type": "needs a whole number without quotes",
    "bool_type": "needs true or false without quotes",
    "dict_type": "needs to be a table with names",
    "model_type": "needs to be a table with fields",
    "list_type": "needs to be a list of tables",
}


def dotted(loc: Loc) -> str:
    """Field path as a person would write it, ``lures.deep-long.mass``.

    Parameters
    ----------
    loc : tuple of str or int
        Keys from the top [-].
    """
    text = ".".join(str(part + 1) if isinstance(part, int) else part for part in loc)
    return "".join(char if char.isprintable() else "?" for char in text)


def toml_error(
    error: tomllib.TOMLDecodeError, text: str, source: str, what: str = "kit"
) -> KitError:
    """Message for a file that is not TOML.

    Parameters
    ----------
    error : tomllib.TOMLDecodeError
        What the reader found [-].
    text : str
        The whole file [-].
    source : str
        Name of the file [-].
    what : str
        What kind of file it should be, for the message [-].
    """
    found = str(error)
    at = _AT.search(found)
    line = int(at[1]) if at and at[1] else len(text.splitlines()) or None
    reason = _AT.sub("", found)
    reason = reason[:1].lower() + reason[1:]
    remedy = "Check quotes, brackets and the = sign on this line"
    if "overwrite" in found or "declare" in found or "twice" in found or "defined" in found:
        reason = "the same name is given a second time"
        remedy = "Remove one of the two, or give it another name"
    elif line is not None and "value" in found.lower():
        remedy = 'Put quantities in quotes, as in mass = "1/2 oz"'
    return KitError(f"this is not readable as a {what} file: {reason}", Where(source, line), remedy)


def validation_error(
    error: ValidationError,
    text: str,
    source: str,
    model_at: Callable[[Loc], type[BaseModel]] | None = None,
    page: str = "docs/kit-file.md",
) -> KitError:
    """Message for a file whose fields are wrong: the first in the file, and how many more.

    Parameters
    ----------
    error : pydantic.ValidationError
        What is wrong [-].
    text : str
        The whole file [-].
    source : str
        Name of the file [-].
    model_at : callable or None
        Gives the table that stands at a place, for the fields it may have;
        None is a kit file [-].
    page : str
        Page that describes the file [-].
    """
    model_at = model_at or _model_at
    found = error.errors(include_url=False)
    lines = [line_of(text, item["loc"]) or 0 for item in found]
    # an unknown field often explains a missing one, so it goes first on equal lines
    order = sorted(
        range(len(found)), key=lambda i: (found[i]["type"] != "extra_forbidden", lines[i])
    )
    first = found[order[0]]
    problem, remedy = _explain(first, model_at, page)
    if len(found) > 1:
        problem += f" (and {len(found) - 1} more to see to after this)"
    return KitError(problem, Where(source, lines[order[0]] or None, dotted(first["loc"])), remedy)


def _explain(item: Any, model_at: Callable[[Loc], type[BaseModel]], page: str) -> tuple[str, str]:
    kind, loc, ctx = item["type"], item["loc"], item.get("ctx", {})
    name = str(loc[-1])
    if kind == "quantity":
        return str(ctx["problem"]), str(ctx["remedy"]) or "Check the number and its unit"
    if kind == "extra_forbidden":
        fields = list(model_at(loc[:-1]).model_fields)
        return f"unknown field '{name[:60]}'", suggestion(name[:60], fields, "field")
    if kind == "missing":
        return f"the field '{name}' is missing", _missing_remedy(loc, model_at)
    if kind == "literal_error":
        words = re.findall(r"'([^']*)'", str(ctx["expected"]))
        shown = f"'{str(item['input'])[:40]}' is not one of the words for '{name}'"
        given = str(item["input"])[:40]
        if len(words) == 2 and not difflib.get_close_matches(given.casefold(), words, cutoff=0.7):
            return shown, f"Use {' or '.join(words)}"  # a faint likeness may mean the other one
        return shown, suggestion(given, words, "word")
    plain = _PLAIN_TYPES.get(kind)
    if plain:
        return f"'{name}' {plain}", f"See {page} for its form"
    return f"'{name}': {item['msg']}", f"See {page} for its form"


def _model_at(loc: Loc) -> type[BaseModel]:
    if not loc:
        return KitTable
    if loc[0] == "angler":
        return CastTable if "casts" in loc else AnglerTable
    return TABLES.get(str(loc[0]), KitTable)


def _missing_remedy(loc: Loc, model_at: Callable[[Loc], type[BaseModel]]) -> str:
    field = model_at(loc[:-1]).model_fields.get(str(loc[-1]))
    about = field.description if field is not None else None
    return f"Add it: {about[:1].lower()}{about[1:]}" if about else "Add it"
