"""Where to run the sounder next: tracks for the hours there are, as GPX."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from leadsman.display_units import DisplayUnits
from leadsman.errors import InputError
from leadsman.lake.bottom_model import Z_90
from leadsman.lake.survey import SurveyPlan, SurveyRun, plan_survey
from leadsman.usecases.lake_edge import EdgeAnswer, EdgeQuestion, find_edge
from leadsman.usecases.lake_export import check_export_path
from leadsman.usecases.lake_text import way_text

SOUNDING_SPEED_M_S = 2.2
"""Speed at which the sounder is run unless told [m s-1]: 5 mph, common practice, no source."""


@dataclass(frozen=True, slots=True)
class SurveyQuestion:
    """A practice day with the sounder.

    Parameters
    ----------
    edge : EdgeQuestion
        The edge that matters [-].
    hours_s : float
        Time there is [s].
    speed_m_s : float
        Speed of the boat [m s-1].
    start_deg : tuple of float or None
        Latitude and longitude where the day starts [deg].
    """

    edge: EdgeQuestion
    hours_s: float
    speed_m_s: float = SOUNDING_SPEED_M_S
    start_deg: tuple[float, float] | None = None


@dataclass(frozen=True, slots=True)
class SurveyAnswer:
    """Runs in the order to make them.

    Parameters
    ----------
    edge : EdgeAnswer
        The edge that matters [-].
    plan : SurveyPlan
        The runs [-].
    headline : str
        The answer in a sentence [-].
    reasons : tuple of str
        Why each run, a sentence [-].
    notes : tuple of str
        What to mind [-].
    """

    edge: EdgeAnswer
    plan: SurveyPlan
    headline: str
    reasons: tuple[str, ...]
    notes: tuple[str, ...]

    @property
    def units(self) -> DisplayUnits:
        """Units the reader thinks in."""
        return self.edge.units

    @property
    def length_m(self) -> float:
        """Length of all runs, without the ways between them [m]."""
        return sum(run.length_m for run in self.plan.runs)


def find_survey(question: SurveyQuestion) -> SurveyAnswer:
    """Plan where to run the sounder.

    Parameters
    ----------
    question : SurveyQuestion
        The edge, the hours and the boat [-].

    Raises
    ------
    InputError
        There is no such edge, or the time is too short.
    """
    edge = find_edge(question.edge)
    start = None
    if question.start_deg is not None:
        start = (question.start_deg[1], question.start_deg[0])
    plan = _within(edge, question, start)
    units = edge.units
    depth = units.depth
    before, after = Z_90 * plan.se_before_m, Z_90 * plan.se_after_m
    count = len(plan.runs)
    headline = (
        f"Run {count} {'track' if count == 1 else 'tracks'} along the edge, "
        f"{way_text(sum(run.length_m for run in plan.runs), units)} in {plan.hours:.1f} h: depth "
        f"beside it is now sure to {depth.text(before)} either way, then to about "
        f"{depth.text(after)}."
    )
    return SurveyAnswer(
        edge,
        plan,
        headline,
        tuple(_reason(run, units) for run in plan.runs),
        (
            "What a run will tell is foreseen from the map as it is; the new log tells more. Add "
            "it with: leadsman lake add NAME LOG --join",
            "Not for navigation: watch the water ahead, not the track. Life jacket on, engine "
            "cut-off clipped",
        ),
    )


def _within(
    edge: EdgeAnswer, question: SurveyQuestion, start: tuple[float, float] | None
) -> SurveyPlan:
    """A plan that ends in time: putting runs in order may lengthen the ways between them."""
    hours = question.hours_s / 3600.0
    for share in (1.0, 0.92, 0.84, 0.76, 0.68, 0.6):
        plan = plan_survey(edge.lake.model, edge.lines, share * hours, question.speed_m_s, start)
        if plan.hours <= hours:
            break
    return plan


def _reason(run: SurveyRun, units: DisplayUnits) -> str:
    return (
        f"{way_text(run.length_m, units)}, {60.0 * run.hours:.0f} min with the way there; depth "
        f"sure to {units.depth.text(Z_90 * run.se_before_m)} now, about "
        f"{units.depth.text(Z_90 * run.se_after_m)} after"
    )


def write_survey(answer: SurveyAnswer, path: Path) -> None:
    """Write the runs as GPX tracks, numbered in their order.

    Parameters
    ----------
    answer : SurveyAnswer
        The runs [-].
    path : pathlib.Path
        File that ends with .gpx [-].

    Raises
    ------
    InputError
        It cannot be written.
    """
    from leadsman.output.gpx import Track, Waypoint, write_gpx

    if check_export_path(path) != "gpx":
        raise InputError("tracks to run go into GPX", path, "End the file name with .gpx")
    tracks = [
        Track(run.lon_deg, run.lat_deg, f"Sound {number}", f"{reason}.")
        for number, (run, reason) in enumerate(
            zip(answer.plan.runs, answer.reasons, strict=True), 1
        )
    ]
    starts = [
        Waypoint(float(run.lon_deg[0]), float(run.lat_deg[0]), f"Sound {number}", "Start here.")
        for number, run in enumerate(answer.plan.runs, 1)
    ]
    write_gpx(path, starts, tracks, f"{answer.edge.lake.name}: where to sound")
