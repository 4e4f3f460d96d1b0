"""How the lake commands print their answers."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import typer

if TYPE_CHECKING:
    from leadsman.usecases.lake_edge import EdgeAnswer
    from leadsman.usecases.lake_patches import PatchesAnswer
    from leadsman.usecases.lake_report import LakeReport
    from leadsman.usecases.lake_survey import SurveyAnswer

Z_90 = 1.644854
"""Half-width of a 90 % interval of the normal law in standard errors [-]."""


def print_report(report: LakeReport) -> None:
    """Print how good the map of a lake is."""
    from leadsman.cli.reply import print_answer, print_notes

    depth = report.units.depth
    print_answer(report.headline)
    shares = ", ".join(
        f"{depth.text(s.half_width_m)} over {100.0 * s.share:.0f} %" for s in report.shares
    )
    print_notes([f"Depth is sure, 9 times in 10, to {shares} of it."])
    for file in report.record.files:
        read = file.report
        print_answer(f"{read.source}: {read.points_in:,} in, {read.points_kept:,} used")
        print_notes([f"{text}." for text in read.said])
        print_notes([f"Left out or mended: {item}." for item in read.dropped])
        print_notes([f"Check: {text}." for text in read.warnings])
    edge_kept = report.record.edge
    if edge_kept is not None:
        print_notes(
            [
                f"Grass edge kept with it: {depth.text(edge_kept.depth_m)} "
                f"({depth.band(edge_kept.low_m, edge_kept.high_m)}), from {edge_kept.origin}."
            ]
        )
    reference = report.record.reference or "the water level of the files; none was told"
    sentences = [f"{text}." for text in (report.coverage_sentence, report.check_sentence) if text]
    print_notes([f"Depth 0 is {reference}.", *sentences, *report.notes])


def print_edge(found: EdgeAnswer, top: int) -> None:
    """Print an edge and its best stretches."""
    from leadsman.cli.reply import print_answer, print_notes, print_table
    from leadsman.usecases.lake_text import place_text

    distance = found.units.distance
    print_answer(found.headline)
    print_table(
        "",
        ("", "shape", "where", "long", "place sure to"),
        [
            (
                str(item.rank),
                item.stretch.kind,
                place_text(item.stretch.lat_deg, item.stretch.lon_deg),
                distance.text(item.stretch.length_m),
                distance.text(Z_90 * item.stretch.position_se_m),
            )
            for item in found.ranked[:top]
        ],
        left=3,
    )
    print_notes([f"{item.rank}. {item.reason}" for item in found.ranked[:top]])
    print_notes((*found.notes, "Not for navigation: level, stumps and shallows differ"))


def print_runs(found: SurveyAnswer) -> None:
    """Print where to run the sounder."""
    from leadsman.cli.reply import print_answer, print_notes, print_table
    from leadsman.usecases.lake_text import place_text

    depth, distance = found.units.depth, found.units.distance
    print_answer(found.headline)
    print_table(
        "Depth beside the edge, 9 times in 10 to within",
        ("", "start at", "long", "with the way there", "now", "then"),
        [
            (
                str(number),
                place_text(float(run.lat_deg[0]), float(run.lon_deg[0])),
                distance.text(run.length_m),
                f"{60.0 * run.hours:.0f} min",
                depth.text(Z_90 * run.se_before_m),
                depth.text(Z_90 * run.se_after_m),
            )
            for number, run in enumerate(found.plan.runs, 1)
        ],
        left=2,
    )
    print_notes(found.notes)


def print_grass(found: PatchesAnswer) -> None:
    """Print the grass that is kept with a lake."""
    from leadsman.cli.reply import print_answer, print_table

    print_answer(found.headline)
    if found.rows:
        print_table("", ("where", "top", "cover", "how known"), found.rows, left=1)


def print_files(*files: tuple[str, Path | None]) -> None:
    """Print which files were written."""
    for what, path in files:
        if path is not None:
            typer.echo(f"{what}: {path}")
