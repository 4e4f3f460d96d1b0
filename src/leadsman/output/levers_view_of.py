"""From a computed table of levers to its picture."""

from __future__ import annotations

from leadsman.display_units import US, DisplayUnits
from leadsman.output.levers_picture import Change, Lever, LeversView
from leadsman.plan.levers import Lever as PlanLever
from leadsman.plan.levers import LeverTable


def levers_view_of(
    table: LeverTable,
    headline: str,
    *,
    units: DisplayUnits = US,
    subtitle: str = "",
    note: str = "",
) -> LeversView:
    """Levers to draw: those that matter, each change of material with its parts.

    Parameters
    ----------
    table : LeverTable
        The computed levers [-].
    headline : str
        The sentence a person could act on [-].
    units : DisplayUnits
        Units the reader thinks in [-].
    subtitle, note : str
        Second line, and small words at the foot [-].

    Returns
    -------
    LeversView
        What `leadsman.output.levers_picture.draw_levers` draws. If no lever
        matters all are shown, so that the picture says so [-].
    """
    kept = [lever for lever in table.levers if lever.matters] or list(table.levers)
    rows: list[Lever] = []
    for lever in kept:
        rows.append(Lever(_label(lever), Change(lever.depth_change_m), _zone(lever.zone_change_m)))
        rows += [
            Lever(
                f"of that, {part.name}",
                Change(part.depth_change_m),
                _zone(part.zone_change_m),
                part=True,
            )
            for part in lever.parts
        ]
    left_out = len(table.levers) - len(kept)
    words = f"{left_out} more changed nothing that can be told on the water." if left_out else ""
    return LeversView(headline, tuple(rows), units, subtitle, f"{words} {note}".strip())


def _zone(change_m: float | None) -> Change | None:
    return None if change_m is None else Change(change_m)


def _label(lever: PlanLever) -> str:
    """Control and step, so that the row can be read alone."""
    return lever.step if lever.control == "material" else f"{lever.control}: {lever.step}"
