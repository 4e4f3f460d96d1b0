"""Lakes whose depth is a formula, as files and as kept lakes."""

from __future__ import annotations

import json
import math
import os
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pytest

from leadsman.lake.frame import MetricFrame
from leadsman.usecases.lake_add import AddLakeQuestion, add_lake
from leadsman.usecases.lake_files import LakeFile, LakeFileOptions

RADIUS_M = 300.0
DEEPEST_M = 12.0
FRAME = MetricFrame(-91.0, 46.0)


def cone_depth_m(radius_m: np.ndarray) -> np.ndarray:
    """Depth of a cone: even slope from the shore to the middle."""
    return DEEPEST_M * (1.0 - radius_m / RADIUS_M)


def cone_rows(frame: MetricFrame = FRAME, gap_m: float = 25.0) -> Iterator[tuple[float, ...]]:
    """Soundings in lines across the cone: longitude, latitude, depth [m]."""
    for x in np.arange(-275.0, 276.0, gap_m):
        reach = math.sqrt((RADIUS_M - 2.0) ** 2 - x * x)
        y = np.arange(-reach, reach, 5.0)
        lon, lat = frame.to_lonlat(np.full(y.shape, x), y)
        yield from zip(lon, lat, cone_depth_m(np.hypot(x, y)), strict=True)


def write_cone(path: Path, frame: MetricFrame = FRAME, head: str = "lon,lat,depth_m") -> Path:
    rows = [f"{lon:.8f},{lat:.8f},{depth:.3f}" for lon, lat, depth in cone_rows(frame)]
    path.write_text("\n".join([head, *rows]) + "\n")
    return path


def write_rings(path: Path, depths_m: tuple[float, ...] = (0.0, 2.0, 4.0, 6.0, 8.0, 10.0)) -> Path:
    """Contours of the same cone as GeoJSON, depths in metres."""
    features = []
    for depth in depths_m:
        radius = RADIUS_M * (1.0 - depth / DEEPEST_M)
        angle = np.linspace(0.0, 2.0 * np.pi, 181)
        lon, lat = FRAME.to_lonlat(radius * np.cos(angle), radius * np.sin(angle))
        ring = [[float(a), float(b)] for a, b in zip(lon, lat, strict=True)]
        ring[-1] = ring[0]
        features.append(
            {
                "type": "Feature",
                "properties": {"depth_m": depth},
                "geometry": {"type": "Polygon", "coordinates": [ring]},
            }
        )
    path.write_text(json.dumps({"type": "FeatureCollection", "features": features}))
    return path


@pytest.fixture(scope="session")
def cone_lakes(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one lake, "Cone", made of soundings and contours. Not to be changed."""
    folder = tmp_path_factory.mktemp("cone")
    files = (
        LakeFile(write_rings(folder / "rings.geojson")),
        LakeFile(write_cone(folder / "cone.csv")),
    )
    add_lake(AddLakeQuestion("Cone", files, folder / "lakes", reference="full pool"))
    return folder / "lakes"


@pytest.fixture
def own_lakes(cone_lakes: Path, tmp_path: Path) -> Path:
    """A copy of it that a test may change."""
    import shutil

    return Path(shutil.copytree(cone_lakes, tmp_path / "lakes"))


@pytest.fixture
def shared_data() -> Callable[[str], Path]:
    """Give the path of a lent file, or skip."""
    given = os.environ.get("LEADSMAN_SHARED_DATA")
    root = Path(given) if given else Path(__file__).resolve().parents[3] / "shared" / "data"

    def find(name: str) -> Path:
        path = root / name
        if not path.exists():
            pytest.skip(f"real data {name} is not here (set LEADSMAN_SHARED_DATA)")
        return path

    return find


def add(name: str, lakes: Path, *files: Path | LakeFile, **more: object):
    """Add a lake of some files."""
    wrapped = tuple(f if isinstance(f, LakeFile) else LakeFile(f) for f in files)
    return add_lake(AddLakeQuestion(name, wrapped, lakes, **more))  # type: ignore[arg-type]


def told(path: Path, **options: object) -> LakeFile:
    """A file with what is said of it."""
    return LakeFile(path, LakeFileOptions(**options))  # type: ignore[arg-type]


@pytest.fixture(scope="session")
def day_plan(tmp_path_factory: pytest.TempPathFactory):
    """A short day on the invented lake, planned once. Not to be changed."""
    from day_of_plan import lake, trip

    from leadsman.usecases.plan_day import plan_day

    return plan_day(trip(tmp_path_factory.mktemp("trip")), model=lake())


@pytest.fixture(scope="session")
def plan_folder(day_plan, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Its folder, written once. Not to be changed."""
    from leadsman.usecases.plan_files import write_plan

    folder = tmp_path_factory.mktemp("plans") / "saturday"
    write_plan(day_plan, folder)
    return folder
