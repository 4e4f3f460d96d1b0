"""The folder of a plan: report, card, maps, way points, shapes, depth table."""

from __future__ import annotations

import io
import math
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from leadsman.errors import InputError
from leadsman.output.picture import write_atomically
from leadsman.plan.water_travel import WaterGrid
from leadsman.usecases.documents.plan import PlanDocument, plan_document

if TYPE_CHECKING:
    from leadsman.usecases.plan_types import PlanAnswer

MARK = "plan.json"
GRID = "plan-water.npz"
"""Where the boat may go, for a new plan on the water."""


def check_folder(folder: Path) -> None:
    """Refuse a folder that holds something else, before anything is computed.

    Parameters
    ----------
    folder : pathlib.Path
        Where the plan goes [-].

    Raises
    ------
    InputError
        It is a file, its parent is not there, or it holds files but no plan.
    """
    if folder.exists() and not folder.is_dir():
        raise InputError("is a file, not a folder", folder, "Name a folder")
    if not folder.parent.is_dir():
        raise InputError("the folder it should lie in is not there", folder.parent, "Make it first")
    if folder.is_dir() and not (folder / MARK).is_file() and any(folder.iterdir()):
        raise InputError(
            "the folder holds files and no plan", folder, "Name a new folder, or an old plan's"
        )


def write_plan(
    answer: PlanAnswer,
    folder: Path,
    progress: Callable[[float, str], None] | None = None,
    phone: bool = False,
) -> tuple[Path, ...]:
    """Write everything, each file whole or not at all; nothing outside the folder.

    Parameters
    ----------
    answer : PlanAnswer
        The plan [-].
    folder : pathlib.Path
        Where to; made if it is not there [-].
    progress : callable or None
        Takes the share that is done and what is being done [-].
    phone : bool
        Draw the maps for the width of a phone [-].

    Returns
    -------
    tuple of pathlib.Path
        Files written.

    Raises
    ------
    InputError
        It cannot be written there.
    """
    from leadsman.output.geojson import write_geojson
    from leadsman.output.gpx import write_gpx
    from leadsman.output.plan_card import save_plan_card
    from leadsman.usecases.plan_text import report_text
    from leadsman.usecases.plan_views import plan_card, plan_features, plan_tracks, plan_waypoints

    tell = progress or (lambda _share, _what: None)
    check_folder(folder)
    try:
        folder.mkdir(exist_ok=True)
    except OSError as error:
        raise InputError(f"cannot be made: {error.strerror}", folder) from None
    title = f"{answer.found.lake.model.name}, {answer.found.trip.hours.date.isoformat()}"
    files = [folder / name for name in ("report.md", "card.pdf", "plan.gpx", "plan.geojson")]
    write_atomically(files[0], report_text(answer).encode("utf-8"))
    save_plan_card(plan_card(answer), files[1])
    write_gpx(files[2], plan_waypoints(answer), plan_tracks(answer), title)
    write_geojson(files[3], plan_features(answer))
    files += _tables(answer, folder)
    tell(0.3, "drawing maps")
    files += _maps(answer, folder, tell, phone)
    document = plan_document(answer).model_dump_json(indent=1, by_alias=True)
    write_atomically(folder / GRID, _packed(answer.candidates.grid, answer))
    write_atomically(folder / MARK, document.encode("utf-8"))
    _sweep(folder, {file.name for file in files})
    tell(1.0, "done")
    return (*files, folder / GRID, folder / MARK)


def _maps(
    answer: PlanAnswer, folder: Path, tell: Callable[[float, str], None], phone: bool
) -> list[Path]:
    from leadsman.output.map_picture import draw_map
    from leadsman.output.passes_picture import draw_pass
    from leadsman.output.picture import save_picture
    from leadsman.output.style import LAPTOP, PHONE
    from leadsman.usecases.plan_views import overview

    layout = PHONE if phone else LAPTOP
    files = [folder / "map.png"]
    save_picture(draw_map(overview(answer), layout), files[0])
    wind = math.radians(answer.found.wind_from_deg) if answer.found.wind_m_s > 0.0 else None
    for done, stop in enumerate(answer.stops, start=1):
        tell(0.3 + 0.7 * done / (len(answer.stops) + 1), stop.stretch.name)
        if stop.passes is None:
            continue
        file = folder / f"pass-{stop.number:02d}.png"
        figure = draw_pass(
            stop.passes, answer.found.lake.model, level_m=answer.found.trip.lake.level_m,
            wind_from_rad=wind, units=answer.found.units, layout=layout,
        )  # fmt: skip
        save_picture(figure, file)
        files.append(file)
    return files


def _tables(answer: PlanAnswer, folder: Path) -> list[Path]:
    """Depth table of what is on deck."""
    from leadsman.usecases.depth_table import TableQuestion, table_of
    from leadsman.usecases.pictures import draw_table, write_table
    from leadsman.usecases.plan_rods import water_of
    from leadsman.usecases.questions import SetupQuestion

    kit, rods = answer.found.kit, answer.rig.rig.rods
    names = {s.way.lure: s.lure.name for s in answer.served}
    own = {kit.lures[i].name for item in rods for i in (item.tied, *item.snaps)}
    lures = {names.get(name, name) for name in own}
    lines = {kit.lines[item.line].name for item in rods}
    table = table_of(
        kit,
        tuple(lure for lure in kit.lures if lure.name in lures),
        tuple(line for line in kit.lines if line.name in lines),
        TableQuestion(SetupQuestion(units=answer.found.units.name), water=water_of(answer.found)),
    )
    return [
        write_table(table, folder / "depths.csv"),
        *draw_table(table, folder / "depths.png"),
    ]


def _packed(grid: WaterGrid, answer: PlanAnswer) -> bytes:
    frame = answer.found.lake.model.lattice.frame
    out = io.BytesIO()
    np.savez_compressed(
        out,
        speed=grid.speed_m_s.astype(np.float32),
        frame=np.array([frame.lon0_deg, frame.lat0_deg]),
        corner=np.array([grid.x0_m, grid.y0_m, grid.cell_m]),
    )
    return out.getvalue()


def _sweep(folder: Path, written: set[str]) -> None:
    """Pictures of an older plan in this folder that this one no longer has."""
    for old in [*folder.glob("pass-[0-9][0-9].png"), *folder.glob("depths-*.png")]:
        if old.name not in written:
            old.unlink(missing_ok=True)


def read_plan(folder: Path) -> tuple[PlanDocument, WaterGrid, tuple[float, float]]:
    """A written plan: its document, its water, and the centre of its frame.

    Parameters
    ----------
    folder : pathlib.Path
        Folder of the plan [-].

    Returns
    -------
    tuple of PlanDocument, WaterGrid and tuple of float
        The plan, the water, longitude and latitude of the frame [deg].

    Raises
    ------
    InputError
        There is no plan, or it is damaged.
    """
    import zipfile
    import zlib

    from pydantic import ValidationError

    from leadsman.errors import LeadsmanError

    path = folder / MARK
    if not path.is_file():
        raise InputError("there is no plan in this folder", folder, "Make one with: leadsman plan")
    try:
        document = PlanDocument.model_validate_json(path.read_bytes())
        with np.load(folder / GRID, allow_pickle=False) as data:
            x0, y0, cell = (float(v) for v in data["corner"])
            grid = WaterGrid(x0, y0, cell, data["speed"].astype(np.float64))
            lon0, lat0 = (float(v) for v in data["frame"])
    except (
        OSError, ValueError, KeyError, EOFError, zipfile.BadZipFile, zlib.error, ValidationError,
        LeadsmanError,
    ) as error:  # fmt: skip
        raise InputError("the plan is damaged", path, "Make it anew") from error
    return document, grid, (lon0, lat0)
