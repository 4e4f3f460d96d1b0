"""Thick grass: what somebody saw comes before what an edge lets expect."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from leadsman.dimensions import FOOT_M
from leadsman.errors import InputError
from leadsman.lake.grass_edge import edge_from_points
from leadsman.usecases.lake_cast import cast_on_lake
from leadsman.usecases.lake_patches import (
    MarkedGrass,
    PatchesQuestion,
    density_share,
    grass_patches,
)
from leadsman.usecases.lake_store import keep_edge, open_lake

from .conftest import FRAME


def _square(x: float, y: float, half: float) -> list[list[float]]:
    corners = [(-1, -1), (1, -1), (1, 1), (-1, 1), (-1, -1)]
    out = []
    for a, b in corners:
        lon, lat = FRAME.to_lonlat(x + half * a, y + half * b)
        out.append([float(lon), float(lat)])
    return out


def _file(path: Path, x: float = 150.0, y: float = 0.0) -> Path:
    feature = {
        "type": "Feature",
        "properties": {"top_depth_ft": 2.0, "density": "thick"},
        "geometry": {"type": "Polygon", "coordinates": [_square(x, y, 25.0)]},
    }
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))
    return path


def test_patches_are_on_the_cast_where_they_lie(own_lakes: Path, tmp_path: Path) -> None:
    """The square reaches from 125 to 175 m; a cast from 200 m inward meets it 25 to 75 m out."""
    found = grass_patches(PatchesQuestion("Cone", own_lakes, _file(tmp_path / "p.geojson")))
    assert "1 patches" in found.headline
    lon, lat = FRAME.to_lonlat(200.0, 0.0)
    cast = cast_on_lake(open_lake("Cone", own_lakes), float(lat), float(lon), 270.0, 100.0)
    grass = cast.bottom.grass
    assert grass is not None
    inside = (grass.x_m > 30.0) & (grass.x_m < 70.0)
    outside = (grass.x_m < 20.0) | (grass.x_m > 80.0)
    assert np.all(grass.density[inside] == pytest.approx(0.8))
    assert np.all(grass.density[outside] == 0.0)
    assert grass.top_depth_m[inside] == pytest.approx(2.0 * FOOT_M, abs=1e-4)
    assert any("seen by you" in text for text in cast.said)


def test_higher_water_leaves_the_top_deeper(own_lakes: Path) -> None:
    mark = MarkedGrass(*_place(150.0), 1.0, 0.8)
    grass_patches(PatchesQuestion("Cone", own_lakes, mark=mark, level_m=0.4))
    patch = open_lake("Cone", own_lakes).record.patches[0]
    assert patch.top_depth_m == pytest.approx(0.6)
    assert patch.origin == "marked"


def _place(x: float) -> tuple[float, float]:
    lon, lat = FRAME.to_lonlat(x, 0.0)
    return float(lat), float(lon)


def test_bare_ground_seen_beats_the_edge(own_lakes: Path) -> None:
    lake = keep_edge(open_lake("Cone", own_lakes), edge_from_points(np.full(9, 6.0)))
    before = cast_on_lake(lake, *_place(200.0), 270.0, 8.0).bottom.grass
    assert before is not None
    mark = MarkedGrass(*_place(196.0), 0.0, 0.0)
    grass_patches(PatchesQuestion("Cone", own_lakes, mark=mark))
    after = cast_on_lake(open_lake("Cone", own_lakes), *_place(198.0), 270.0, 4.0)
    assert after.bottom.grass is None


def test_out_and_in_again(own_lakes: Path, tmp_path: Path) -> None:
    path = tmp_path / "out.geojson"
    grass_patches(PatchesQuestion("Cone", own_lakes, _file(tmp_path / "p.geojson")))
    first = open_lake("Cone", own_lakes).record.patches
    grass_patches(PatchesQuestion("Cone", own_lakes, out=path))
    grass_patches(PatchesQuestion("Cone", own_lakes, clear=True))
    assert open_lake("Cone", own_lakes).record.patches == ()
    grass_patches(PatchesQuestion("Cone", own_lakes, path))
    again = open_lake("Cone", own_lakes).record.patches
    assert again[0].top_depth_m == pytest.approx(first[0].top_depth_m, abs=1e-3)
    assert sorted(again[0].lon_deg) == pytest.approx(sorted(first[0].lon_deg), abs=1e-6)


def test_add_and_replace(own_lakes: Path, tmp_path: Path) -> None:
    ask = PatchesQuestion("Cone", own_lakes, _file(tmp_path / "p.geojson"))
    for _ in range(2):
        grass_patches(ask)
    assert len(open_lake("Cone", own_lakes).record.patches) == 2
    grass_patches(
        PatchesQuestion("Cone", own_lakes, _file(tmp_path / "q.geojson"), if_there="replace")
    )
    assert len(open_lake("Cone", own_lakes).record.patches) == 1


def test_patches_of_elsewhere_are_refused(own_lakes: Path, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="not on the map"):
        grass_patches(PatchesQuestion("Cone", own_lakes, _file(tmp_path / "p.geojson", x=5000.0)))
    assert open_lake("Cone", own_lakes).record.patches == ()
    with pytest.raises(InputError, match="no grass is kept"):
        grass_patches(PatchesQuestion("Cone", own_lakes, out=tmp_path / "x.geojson"))


@pytest.mark.parametrize(
    ("text", "share"), [("thick", 0.8), ("bare", 0.0), ("60 %", 0.6), ("0.3", 0.3)]
)
def test_cover(text: str, share: float) -> None:
    assert density_share(text) == pytest.approx(share)


@pytest.mark.parametrize("text", ["", "lots", "120 %", "-1", "nan"])
def test_cover_that_is_none(text: str) -> None:
    with pytest.raises(InputError, match="cover of grass"):
        density_share(text)
