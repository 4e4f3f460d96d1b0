"""From the rows of the observations file to what each lure is learned from."""

from __future__ import annotations

from collections.abc import Sequence

from leadsman.calibrate.evidence import (
    BOTTOM_SD_M,
    CAST_SD_LOG,
    MEASURED_SD_M,
    TIME_SD_S,
    DidNotReach,
    Evidence,
    Fished,
    MeasuredDepth,
    PullOnScale,
    Ticked,
    TimeToBottom,
)
from leadsman.calibrate.tune import LureCase, Observed
from leadsman.display_units import DisplayUnits, display_units
from leadsman.errors import KitError, LogError, Where
from leadsman.hydro.technique import Technique
from leadsman.kitfile.kit import Kit, find_named
from leadsman.kitfile.observation import Observation
from leadsman.tackle.line import line_properties, line_spread

USUAL_TIP_M = 0.5
"""Height of the rod tip where none is noted: held low [m]; our assumption."""


def lure_cases(
    kit: Kit, observations: Sequence[Observation], source: str = "observations.csv"
) -> tuple[LureCase, ...]:
    """What was seen of each lure of a kit, in the order of days.

    A lure that was retuned starts afresh: what was seen before no longer
    counts. What was seen while it ran to one side does not count either, since
    it says nothing of the lure as it runs when true.

    Parameters
    ----------
    kit : Kit
        Kit [-].
    observations : sequence of Observation
        Rows of the file [-].
    source : str
        Name of the file, for messages [-].

    Returns
    -------
    tuple of LureCase
        One for each lure of the kit, in its order.

    Raises
    ------
    LogError
        A row names a lure or line that is not in the kit.
    """
    units = display_units(kit.units)
    by_lure: dict[str, list[Observed]] = {lure.name: [] for lure in kit.lures}
    for row in sorted(observations, key=lambda item: item.day):
        try:
            lure = find_named(row.lure, kit.lures, "lure", Where(source, row.row, "lure"))
            if row.kind == "retuned":
                by_lure[lure.name].clear()
            elif row.off_true is None:
                evidence = _evidence(row, kit, source)
                by_lure[lure.name].append(Observed(label_of(row, units), evidence, row.day))
        except KitError as error:
            raise LogError(error.problem, error.where, error.remedy) from None
    return tuple(LureCase(lure, tuple(by_lure[lure.name])) for lure in kit.lures)


def label_of(row: Observation, units: DisplayUnits) -> str:
    """What a person would call an observation.

    Parameters
    ----------
    row : Observation
        Row [-].
    units : DisplayUnits
        Units of display [-].
    """
    text = f"{row.day.isoformat()}: {row.kind}"
    if row.kind == "pull" and row.pull_n is not None:
        return f"{text} {units.pull.text(row.pull_n)}"
    if row.depth_m is not None:
        text += f" {units.depth.text(row.depth_m)}"
    if row.line is not None and row.cast_m is not None:
        text += f" on {row.line}, {units.distance.text(row.cast_m)} cast"
    return text


def _evidence(row: Observation, kit: Kit, source: str) -> Evidence:
    if row.kind == "pull":
        assert row.pull_n is not None and row.speed_m_s is not None  # the reader requires them
        return PullOnScale(row.pull_n, row.speed_m_s)
    assert row.depth_m is not None and row.line is not None and row.cast_m is not None
    line = find_named(row.line, kit.lines, "line", Where(source, row.row, "line"))
    technique = Technique.steady(
        row.cast_m,
        USUAL_TIP_M if row.tip_m is None else row.tip_m,
        row.speed_m_s or kit.angler.reel_speed_m_s,
    )
    fished = Fished(
        line=line_properties(line),
        line_name=line.name,
        diameter_log_sd=line_spread(line).diameter_log_sd,
        technique=technique,
        cast_log_sd=row.cast_sd_m / row.cast_m if row.cast_sd_m else CAST_SD_LOG,
        casts=row.casts,
    )
    if row.kind == "measured":
        return MeasuredDepth(fished, row.depth_m, row.depth_sd_m or MEASURED_SD_M)
    bottom_sd_m = row.depth_sd_m or BOTTOM_SD_M
    if row.kind == "ticked":
        return Ticked(fished, row.depth_m, bottom_sd_m)
    if row.kind == "did not reach":
        return DidNotReach(fished, row.depth_m, bottom_sd_m)
    assert row.time_s is not None
    return TimeToBottom(fished, row.depth_m, row.time_s, bottom_sd_m, row.time_sd_s or TIME_SD_S)
