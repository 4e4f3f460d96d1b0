"""JSON form of `leadsman table`."""

from __future__ import annotations

import math

from pydantic import Field

from leadsman.usecases.depth_table import TableAnswer
from leadsman.usecases.documents.base import Document


class TableRow(Document):
    """One lure on one line with one cast and rod position."""

    lure: str = Field(description="Name of the lure.")
    line: str = Field(description="Name of the line.")
    cast_m: float = Field(description="Rod tip to lure at the start [m].")
    tip_m: float = Field(description="Height of the rod tip [m].")
    depth_m: float = Field(description="Greatest free-running depth [m].")
    low_90_m: float = Field(description="Shallow end of the 90 % band [m].")
    high_90_m: float = Field(description="Deep end of the 90 % band [m].")


class TableDocument(Document):
    """Answer of `leadsman table`."""

    schema_: str = Field(
        default="leadsman.table/1", alias="schema", description="Name and version."
    )
    headline: str = Field(description="The answer in a sentence.")
    rows: tuple[TableRow, ...] = Field(description="Every cast within reach.")
    notes: tuple[str, ...] = Field(description="What was assumed.")


def table_document(answer: TableAnswer) -> TableDocument:
    """JSON form of a depth table.

    Parameters
    ----------
    answer : TableAnswer
        The answer [-].
    """
    table = answer.table
    rows = [
        TableRow(
            lure=lure,
            line=line,
            cast_m=float(cast),
            tip_m=float(tip),
            depth_m=float(table.depth_m[u, n, c, t]),
            low_90_m=float(table.low_m[u, n, c, t]),
            high_90_m=float(table.high_m[u, n, c, t]),
        )
        for u, lure in enumerate(table.lures)
        for n, line in enumerate(table.lines)
        for c, cast in enumerate(table.casts_m)
        for t, tip in enumerate(table.tips_m)
        if math.isfinite(table.depth_m[u, n, c, t])
    ]
    return TableDocument(headline=answer.headline, rows=tuple(rows), notes=answer.notes)
