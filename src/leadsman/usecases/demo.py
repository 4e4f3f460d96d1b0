"""The main job, end to end, on an invented kit and an invented lake."""

from __future__ import annotations

import csv
import math
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from leadsman.display_units import display_units
from leadsman.errors import InputError, LakeDataError
from leadsman.kitfile.atomic import write_text_atomic
from leadsman.kitfile.template import demo_kit_text
from leadsman.lake.cast_profile import profile_from_soundings
from leadsman.lake.demo_lake import EDGE_NAME, GRASS_EDGE_M, LOG_NAME, NAME, data_folder
from leadsman.lake.frame import MetricFrame
from leadsman.lake.load_soundings import load_soundings
from leadsman.lake.soundings import Soundings
from leadsman.usecases.depth import find_depth
from leadsman.usecases.levers import find_levers
from leadsman.usecases.match import MatchAnswer, MatchQuestion, find_match
from leadsman.usecases.pictures import draw_depth, draw_levers, draw_match
from leadsman.usecases.questions import (
    BottomQuestion,
    DepthQuestion,
    GrassQuestion,
    SetupQuestion,
    TechniqueQuestion,
    TrackQuestion,
)

FLAT = "10 ft"
"""Depth of the flat that the demo fishes."""

GRASS_HEIGHT_M = 0.6
"""How tall the sparse grass at the edge stands [m]; an assumption of the demo."""

GRASS_DENSITY = 0.2
"""Share of the ground that the grass at the edge covers [-]; an assumption of the demo."""

CAST_M = 46.0
"""Cast along the edge, 50 yd [m]."""


@dataclass(frozen=True, slots=True)
class DemoAnswer:
    """What the demo wrote.

    Parameters
    ----------
    headline : str
        The answer in a sentence [-].
    report : str
        The report as text [-].
    files : tuple of pathlib.Path
        Every file written [-].
    """

    headline: str
    report: str
    files: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class EdgeCast:
    """A cast along the grass edge.

    Parameters
    ----------
    lat_deg, lon_deg : float
        Where the rod tip is [deg].
    heading_deg : float
        True heading [deg].
    """

    lat_deg: float
    lon_deg: float
    heading_deg: float


def run_demo(folder: Path, tell: Callable[[float, str], None] | None = None) -> DemoAnswer:
    """Rank the demo kit over a flat and along a grass edge; write pictures and a report.

    Parameters
    ----------
    folder : pathlib.Path
        Where to write; made if it is not there, its demo files replaced [-].
    tell : callable or None
        Takes the share that is done and what is being done [-].

    Raises
    ------
    InputError
        The folder cannot be written.
    """
    tell = tell or (lambda share, what: None)
    try:
        folder.mkdir(parents=True, exist_ok=True)
        kit, log = _copy_inputs(folder)
    except OSError as error:
        raise InputError(
            f"cannot write there ({error.strerror})", folder, "Choose another folder with --out"
        ) from error
    tell(0.05, "the flat")
    setup = SetupQuestion(kit=kit)
    flat = find_match(MatchQuestion(setup, BottomQuestion(FLAT)))
    draw_match(flat, folder / "flat.svg")
    draw_match(flat, folder / "flat.png")
    tell(0.4, "the edge")
    soundings, _ = load_soundings(log)
    cast = find_edge_cast(soundings, data_folder() / EDGE_NAME)
    track = TrackQuestion(log, cast.lat_deg, cast.lon_deg, cast.heading_deg)
    grass = GrassQuestion(GRASS_EDGE_M - GRASS_HEIGHT_M, density=GRASS_DENSITY)
    along = BottomQuestion(track=track, grass=grass)
    edge = find_match(MatchQuestion(setup, along, casts_m=(CAST_M,)))
    draw_match(edge, folder / "edge.svg")
    draw_match(edge, folder / "edge.png")
    tell(0.75, "the best setup")
    best = flat.result.ranked[0]
    question = DepthQuestion(
        SetupQuestion(kit=kit, lure=best.lure, line=best.line),
        TechniqueQuestion(cast_m=best.cast_m, tip=best.constant_tip_m),
        BottomQuestion(FLAT),
    )
    depth = find_depth(question)
    draw_depth(depth, folder / "depth.svg")
    draw_depth(depth, folder / "depth.png")
    levers = find_levers(question)
    draw_levers(levers, folder / "levers.svg")
    draw_levers(levers, folder / "levers.png")
    report = _report(flat, edge, cast, depth.headline, levers.headline)
    write_text_atomic(folder / "report.txt", report)
    tell(1.0, "done")
    return DemoAnswer(flat.result.headline, report, tuple(sorted(folder.glob("*.*"))))


def _copy_inputs(folder: Path) -> tuple[Path, Path]:
    kit, log = folder / "kit.toml", folder / LOG_NAME
    write_text_atomic(kit, demo_kit_text())
    shutil.copyfile(data_folder() / LOG_NAME, log)
    shutil.copyfile(data_folder() / EDGE_NAME, folder / EDGE_NAME)
    return kit, log


def find_edge_cast(soundings: Soundings, edge_file: Path) -> EdgeCast:
    """The cast between two marked edge points whose bottom keeps nearest to the edge's depth.

    Parameters
    ----------
    soundings : Soundings
        Cleaned soundings [-].
    edge_file : pathlib.Path
        Table with columns lat, lon and depth of places where the grass stops [-].

    Raises
    ------
    LakeDataError
        No two marked points are a cast apart over sounded water.
    """
    with edge_file.open(encoding="utf-8", newline="") as file:
        points = [(float(row["lat"]), float(row["lon"])) for row in csv.DictReader(file)]
    best: tuple[float, EdgeCast] | None = None
    for lat, lon in points:
        for other_lat, other_lon in points:
            reach, heading = _towards(lat, lon, other_lat, other_lon)
            if not 0.6 * CAST_M <= reach <= 1.2 * CAST_M:
                continue
            cast = EdgeCast(lat, lon, heading)
            try:
                profile = profile_from_soundings(soundings, lat, lon, heading, CAST_M)
            except LakeDataError:
                continue
            off = float(np.sqrt(np.mean((profile.bottom.depth_m - GRASS_EDGE_M) ** 2)))
            if best is None or off < best[0]:
                best = (off, cast)
    if best is None:
        raise LakeDataError(
            "no two edge points are a cast apart over sounded water", edge_file.name
        )
    return best[1]


def _towards(lat: float, lon: float, to_lat: float, to_lon: float) -> tuple[float, float]:
    """Distance [m] and true heading [deg] from one place to another."""
    x, y = MetricFrame(lon, lat).to_metric(np.array([to_lon]), np.array([to_lat]))
    east, north = float(x[0]), float(y[0])
    return math.hypot(east, north), math.degrees(math.atan2(east, north)) % 360.0


def _report(flat: MatchAnswer, edge: MatchAnswer, cast: EdgeCast, depth: str, levers: str) -> str:
    units = display_units(flat.kit.units)
    lines = [
        f"LEADSMAN DEMO: an invented kit on {NAME}, an invented lake.",
        "Estimates, not for navigation. Life jacket on; local fishing law first.",
        "",
        f"1. A flat of {FLAT}",
        f"   {flat.result.headline}",
        *_places(flat),
        f"   {flat.result.limit_sentence}",
        "",
        f"2. Along the grass edge at {units.depth.text(GRASS_EDGE_M)}, over the sounder log",
        f"   {edge.result.headline}",
        *_places(edge),
        f"   {edge.result.limit_sentence}",
        *(f"   {note}" for note in edge.ground.notes),
        "   Ask it yourself, in this folder:",
        f"   leadsman match --kit kit.toml --soundings {LOG_NAME} "
        f"--at {cast.lat_deg:.6f},{cast.lon_deg:.6f} --heading {cast.heading_deg:.1f} "
        f'--cast "{CAST_M:g} m" --grass-top "{GRASS_EDGE_M - GRASS_HEIGHT_M:.4g} m" '
        f"--grass-density {GRASS_DENSITY:g}",
        "",
        "3. The best setup of the flat, rod tip held where it does best",
        f"   {depth}",
        f"   {levers}",
        "",
        "What to look at",
        "   flat.png    the best three on the flat: orange is light contact, read its length",
        "   edge.png    the same along the edge, over the bottom that the log shows",
        "   depth.png   one setup with its band: how sure the depth is",
        "   levers.png  what one step of each control buys, in feet and in yards of zone",
        "   kit.toml    the kit: change it to what you own and run: leadsman match --kit kit.toml",
        "",
    ]
    return "\n".join(lines)


def _places(answer: MatchAnswer) -> list[str]:
    units = answer.units
    return [
        f"   {place}. {item.lure} on {item.line}: {units.distance.text(item.zone_m)} of zone on "
        f"average over what is not known. "
        f"{item.reason}"
        for place, item in enumerate(answer.result.ranked[:5], start=1)
    ]
