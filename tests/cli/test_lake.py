"""`leadsman lake` as a person uses it: the demo lake, real data where it is lent, bad files."""

from __future__ import annotations

import functools
import json
import os
import random
import struct
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from leadsman.dimensions import FOOT_M
from leadsman.lake.demo_lake import EDGE_NAME, GRASS_EDGE_M, LOG_NAME, data_folder

LOG, MARKS = str(data_folder() / LOG_NAME), str(data_folder() / EDGE_NAME)
Ask = Callable[..., Any]


@pytest.fixture(scope="module")
def demo_lakes(tmp_path_factory: pytest.TempPathFactory) -> str:
    """The demo lake, kept. Not to be changed."""
    from leadsman.cli import run

    folder = tmp_path_factory.mktemp("demo") / "lakes"
    words = ["lake", "add", "Quillfeather", LOG, "--lakes", str(folder), "--cell", "10 m"]
    assert run([*words, "--json"]) == 0
    assert (
        run(["lake", "edge", "quill", "--marks", MARKS, "--keep", "--lakes", str(folder), "--json"])
        == 0
    )
    return str(folder)


def _shared(name: str) -> str:
    given = os.environ.get("LEADSMAN_SHARED_DATA")
    root = Path(given) if given else Path(__file__).resolve().parents[3] / "shared" / "data"
    if not (root / name).exists():
        pytest.skip(f"real data {name} is not here (set LEADSMAN_SHARED_DATA)")
    return str(root / name)


# --- the demo lake, whose truth is a formula


def test_the_edge_is_where_the_demo_put_it(leadsman: Ask, demo_lakes: str) -> None:
    found = leadsman("lake", "edge", "Quillfeather", "--lakes", demo_lakes, "--json").document
    assert found["schema"] == "leadsman.lake-edge/1"
    assert found["band_m"][0] <= GRASS_EDGE_M <= found["band_m"][1]
    # The formula has one point (72 degrees from east) and one inside turn (232 degrees).
    kinds = {s["kind"] for s in found["stretches"][:10]}
    assert {"point", "inside turn"} <= kinds
    best = found["stretches"][0]
    assert best["kind"] == "point"
    assert best["lat_deg"] > 45.001
    assert -90.003 < best["lon_deg"] < -89.995


def test_answers_begin_with_one_sentence(leadsman: Ask, demo_lakes: str) -> None:
    for words, start in (
        (("list",), "1 lake in "),
        (("show", "quill"), "Quillfeather: "),
        (("edge", "quill"), "Grass stops near "),
        (("survey", "quill", "--hours", "1"), "Run "),
        (("grass", "quill"), "No grass is kept"),
    ):
        reply = leadsman("lake", *words, "--lakes", demo_lakes)
        assert reply.code == 0, reply.err
        assert reply.out.startswith(start)
        assert reply.err == ""


def test_the_report_tells_what_was_left_out(leadsman: Ask, demo_lakes: str) -> None:
    out = " ".join(leadsman("lake", "show", "quill", "--lakes", demo_lakes).out.split())
    for words in ("4,071 in", "depth spike", "wrong checksum", "stray fix", "root mean square",
                  "1.0 to 3.0 ft", "Not for navigation", "of a sounding"):  # fmt: skip
        assert words in out, words
    metric = leadsman("lake", "show", "quill", "--lakes", demo_lakes, "--units", "metric").out
    assert " ha mapped" in metric


def test_whole_way_from_log_to_cast(leadsman: Ask, tmp_path: Path) -> None:
    assert leadsman("lake", "add", "Quill", LOG, "--cell", "10 m").code == 0
    assert Path("lakes/quill/lake.json").is_file()
    assert leadsman("lake", "edge", "Quill", "--marks", MARKS, "--keep").code == 0
    for words in (
        ("edge", "Quill", "--picture", "edge.svg", "--out", "edge.gpx"),
        ("edge", "Quill", "--picture", "spot.svg", "--zoom", "1", "--phone"),
        ("survey", "Quill", "--hours", "1 h", "--out", "runs.gpx", "--picture", "runs.svg"),
        ("map", "Quill", "map.svg"),
        ("export", "Quill", "contours.geojson", "--interval", "5 ft"),
        ("export", "Quill", "grid.tif"),
        ("grass", "Quill", "--at", "45.0026,-89.9992", "--top", "3 ft"),
    ):
        reply = leadsman("lake", *words)
        assert reply.code == 0, (words, reply.err)
    for name in ("edge.svg", "edge.gpx", "spot.svg", "runs.gpx", "runs.svg", "map.svg",
                 "contours.geojson", "grid.tif"):  # fmt: skip
        assert (tmp_path / name).stat().st_size > 500, name
    at = ("--lake", "Quill", "--at", "45.0026,-89.9992", "--heading", "180")
    tackle = ("--lure", "long-lip-15", "--line", "fluoro-12", "--cast", "40 yd")
    deep = leadsman("depth", *at, *tackle, "--json")
    assert deep.code == 0, deep.err
    assert any("Quill under the cast" in note for note in deep.document["notes"])
    assert leadsman("levers", *at, *tackle).code == 0
    assert leadsman("lake", "remove", "Quill").code == 0
    assert not Path("lakes/quill").exists()
    assert leadsman("depth", *at, *tackle).code == 2


def test_a_lake_is_never_lost_by_accident(leadsman: Ask) -> None:
    first = leadsman("lake", "add", "Q", LOG, "--cell", "20 m", "--json").document
    again = leadsman("lake", "add", "Q", LOG, "--cell", "20 m")
    assert again.code == 2
    assert "--join" in again.err
    assert "--replace" in again.err
    both = leadsman("lake", "add", "Q", LOG, "--join", "--replace")
    assert both.code == 2
    joined = leadsman("lake", "add", "Q", LOG, "--join", "--cell", "20 m", "--json")
    assert len(joined.document["files"]) == 2
    assert joined.document["area_m2"] == pytest.approx(first["area_m2"], rel=0.05)
    assert leadsman("lake", "remove", "X").code == 2


def test_every_help_has_examples_or_is_plain(leadsman: Ask) -> None:
    for name in ("add", "edge", "grass", "survey", "export"):
        assert "leadsman lake " + name in " ".join(leadsman("lake", name, "--help").out.split())


# --- options


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("add", "L", LOG, "--depth-unit", "furlong"), "ft, m, fathom"),
        (("add", "L", LOG, "--sign", "sideways"), "down, up"),
        (("add", "L", LOG, "--crs", "other.csv=EPSG:4326"), "not among the files"),
        (("add", "L", LOG, "--level", "120 ft"), "30 m"),
        (("add", "L", LOG, "--level", "90 ft"), "dry"),
        (("add", "L", LOG, "--level", "2"), "unit"),
        (("add", "L", LOG, "--cell", "5 mm"), "1 to 100 m"),
        (("add", "", LOG), "name of a lake"),
        (("add", "L", "nothing.csv"), "no such file"),
        (("add", "L", "."), "not a file"),
        (("edge", "L"), "no lake 'L'"),
        (("edge", "Q", "--depth", "13 ft", "--zoom", "1"), "--picture"),
        (("edge", "Q", "--depth", "13 ft", "--out", "e.tif"), "no grid"),
        (("edge", "Q", "--depth", "13 ft", "--picture", "e.jpg"), "ends with"),
        (("edge", "Q", "--marks", "none.csv"), "no such file"),
        (("edge", "Q", "--clarity", "900 ft"), "Secchi"),
        (("survey", "Q", "--hours", "1 min", "--depth", "13 ft"), "hours"),
        (("survey", "Q", "--hours", "1", "--depth", "13 ft", "--from", "north"), "not a place"),
        (("export", "Q", "x.kmz"), "do not write"),
        (("map", "Q", "nowhere/x.png"), "folder is not there"),
        (("grass", "Q", "--at", "45,-90"), "--top"),
        (("grass", "Q", "--top", "1 ft"), "--at"),
        (("grass", "Q", "--clear", "--at", "45,-90", "--top", "1 ft"), "--clear"),
    ],
)
def test_what_cannot_be_is_told(leadsman: Ask, demo_lakes: str, words: Any, said: str) -> None:
    own = "lakes" if words[0] == "add" else demo_lakes
    reply = leadsman("lake", *("Quill" if w == "Q" else w for w in words), "--lakes", own)
    assert reply.code == 2, reply.out
    assert said in reply.err
    assert "Traceback" not in reply.err
    assert not Path("lakes").exists()


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("--lake", "quill"), "--at"),
        (("--lake", "quill", "--at", "45.0026,-89.9992"), "--heading"),
        (("--lake", "quill", "--bottom", "10 ft", "--at", "45,-90", "--heading", "1"), "twice"),
        (("--lake", "quill", "--at", "46.5,-89.9992", "--heading", "0"), "not on the mapped"),
        (("--at", "45,-90", "--heading", "0"), "--lake NAME"),
    ],
)
def test_casts_on_a_lake_that_cannot_be(
    leadsman: Ask, demo_lakes: str, words: Any, said: str
) -> None:
    folder = ("--lakes", demo_lakes) if "--lake" in words else ()
    tackle = ("--lure", "long-lip-15", "--line", "fluoro-12")
    reply = leadsman("depth", *words, *folder, *tackle)
    assert reply.code == 2, reply.out
    assert said in reply.err


# --- malformed and hostile files: one clear message, nothing kept


def _geojson(path: Path, ring: Any, depth: Any = 3.0) -> None:
    feature = {
        "type": "Feature",
        "properties": {"depth_m": depth},
        "geometry": {"type": "Polygon", "coordinates": ring},
    }
    path.write_text(json.dumps({"type": "FeatureCollection", "features": [feature]}))


def _bomb(path: Path) -> None:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("a.shp", b"\0" * 40_000_000)


def _text(text: str) -> Callable[[Path], object]:
    return lambda path: path.write_text(text)


def _bytes(data: bytes) -> Callable[[Path], object]:
    return lambda path: path.write_bytes(data)


def _slip(path: Path) -> None:
    with zipfile.ZipFile(path, "w") as archive:
        archive.writestr("../../outside.shp", b"no map")


def _noise(path: Path) -> None:
    path.write_bytes(b"II*\x00" + random.Random(3).randbytes(400))


_FAR_RING = [[[5e6, 4e6], [5e6, 4.1e6], [5.1e6, 4e6], [5e6, 4e6]]]
_SMALL_RING = [[[0, 0], [0, 1e-3], [1e-3, 0], [0, 0]]]
_ENTITIES = (
    '<?xml version="1.0"?><!DOCTYPE g [<!ENTITY a "aaaaaaaaaa">'
    '<!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;">]><gpx><wpt lat="1" lon="1"><name>&b;</name></wpt>'
    "</gpx>"
)
BAD: dict[str, Callable[[Path], object]] = {
    "truncated.shp": _bytes(struct.pack(">i", 9994) + b"\0" * 40),
    "bomb.zip": _bomb,
    "nan.csv": _text("lon,lat,depth_m\n" + "nan,nan,nan\n" * 50),
    "far.csv": _text("lon,lat,depth_m\n-90,45,1000000000\n-90.1,45,1e9\n-90,45.1,1e9\n"),
    "wrong.geojson": lambda path: _geojson(path, _FAR_RING),
    "binary.csv": _bytes(bytes(range(256)) * 50),
    "entity.gpx": _text(_ENTITIES),
    "nested.geojson": _text("[" * 100_000),
    "empty.csv": _text(""),
    "short.tif": _bytes(b"II*\x00\x08\x00\x00\x00"),
    "lies.tif": _noise,
    "slip.zip": _slip,
    "one.csv": _text("lon,lat,depth_m\n-90,45,3\n"),
    "cut.gpx": _text('<?xml version="1.0"?><gpx><wpt lat="1" lon="1"><desc>depth 3 m'),
    "deep.geojson": lambda path: _geojson(path, _SMALL_RING, 1e9),
    "text.nc": _text("CDF\x01 is not enough"),
}


@pytest.mark.parametrize("name", BAD)
def test_bad_files_end_in_one_message(leadsman: Ask, tmp_path: Path, name: str) -> None:
    path = tmp_path / name
    BAD[name](path)
    reply = leadsman("lake", "add", "Bad", str(path))
    assert reply.code == 2, reply.out + reply.err
    assert name in reply.err
    assert len(reply.err.strip().splitlines()) == 1
    assert not Path("lakes").exists()
    assert not (tmp_path.parent / "outside.shp").exists()


def test_self_crossing_rings_are_mended_and_told(leadsman: Ask, tmp_path: Path) -> None:
    bow = [[-90.0, 45.0], [-89.99, 45.01], [-89.99, 45.0], [-90.0, 45.01], [-90.0, 45.0]]
    _geojson(tmp_path / "bow.geojson", [bow], 0.0)
    both = json.loads((tmp_path / "bow.geojson").read_text())
    inner = [[-89.9995, 45.004], [-89.9975, 45.006], [-89.9975, 45.004], [-89.9995, 45.004]]
    both["features"].append(
        {"type": "Feature", "properties": {"depth_m": 3.0},
         "geometry": {"type": "Polygon", "coordinates": [inner]}}
    )  # fmt: skip
    (tmp_path / "bow.geojson").write_text(json.dumps(both))
    reply = leadsman("lake", "add", "Bow", "bow.geojson", "--json")
    assert reply.code == 0, reply.err
    reasons = [d["reason"] for d in reply.document["files"][0]["dropped"]]
    assert any("self-crossing" in reason for reason in reasons)


# --- real data


def test_real_contours_keep_their_areas(leadsman: Ask) -> None:
    """Area deeper than each contour, by shapely from the polygons as they stand in the file.

    Within a depth rings count even-odd (a ring in a ring is an island or a hump), and what lies
    outside the shallower contour is not water.
    """
    path = _shared("yahara_monona/monona-contours-all.shp")
    reply = leadsman("lake", "add", "Monona", path, "--crs", "EPSG:3070", "--json")
    assert reply.code == 0, reply.err
    import pyogrio
    import shapely

    from leadsman.usecases.lake_store import open_lake

    meta, _, wkb, columns = pyogrio.raw.read(path)
    depth = columns[list(meta["fields"]).index("Depth_m")].astype(float)
    shapes = shapely.make_valid(shapely.from_wkb(wkb))
    model = open_lake("Monona").model
    water = None
    for level in sorted(set(depth.round(3))):
        rings = [s for s, d in zip(shapes, depth, strict=True) if abs(d - level) < 1e-3]
        distinct: list[Any] = []
        for ring in sorted(rings, key=lambda r: -r.area):
            twin = any(shapely.symmetric_difference(ring, o).area < 0.02 * o.area for o in distinct)
            if not twin:
                distinct.append(ring)
        region = functools.reduce(shapely.symmetric_difference, distinct)
        water = region if water is None else shapely.intersection(region, water)
        assert model.area_deeper_m2(float(level)) == pytest.approx(water.area, rel=0.02), level
    assert leadsman("lake", "add", "M2", path).code == 2  # without a frame it cannot be placed


def test_real_strays_are_found_and_nothing_else_is_lost(leadsman: Ask) -> None:
    """1,039 points, 6 of them some 3.5 km away (the data's own note)."""
    found = leadsman("lake", "add", "227", _shared("iisd_ela_227/227_LA.csv"), "--json").document
    assert (found["points_in"], found["points_kept"]) == (1039, 1033)
    (dropped,) = found["files"][0]["dropped"]
    assert dropped["count"] == 6
    assert "stray" in dropped["reason"]
    assert 0.85 <= found["check"]["coverage_90"] <= 0.95
    assert found["check"]["rmse_m"] < found["check"]["published_rmse_m"][1]
    assert 4e4 < found["area_m2"] < 6.5e4, "the lake has about 5 ha"


def test_a_real_moored_boat_maps_nothing_and_is_told_so(leadsman: Ask) -> None:
    reply = leadsman("lake", "add", "Harbour", _shared("gpsd_sounder/sounder.log"))
    assert reply.code == 2
    assert "did not move" in reply.err
    assert not Path("lakes").exists()


def test_practice_day_on_a_real_bottom(leadsman: Ask, tmp_path: Path) -> None:
    """A day's tracks over a real lake's bottom: lines 120 m apart and a zigzag along 4 m."""
    import numpy as np

    path = _shared("yahara_monona/monona-contours-all.shp")
    leadsman("lake", "add", "Truth", path, "--crs", "EPSG:3070", "--cell", "10 m", "--json")
    from leadsman.lake.edge import edge_lines
    from leadsman.usecases.lake_store import open_lake

    truth = open_lake("Truth").model
    rng = np.random.default_rng(11)
    xs, ys = [], []
    for number, x in enumerate(np.arange(-1500.0, 1501.0, 120.0)):
        y = np.arange(-1200.0, 1200.0, 6.0)[:: 1 if number % 2 else -1]
        xs.append(np.full(y.shape, x))
        ys.append(y)
    line = edge_lines(truth, 4.0)[0]
    swing = 35.0 * np.sin(line.along_m / 30.0)
    xs.append(line.x_m + swing * line.to_deep_x)
    ys.append(line.y_m + swing * line.to_deep_y)
    x, y = np.concatenate(xs), np.concatenate(ys)
    depth, _ = truth.sample(x, y)
    wet = np.isfinite(depth) & (depth > 0.3)
    lon, lat = truth.lattice.frame.to_lonlat(x[wet], y[wet])
    noisy = depth[wet] + rng.normal(0.0, 0.1, int(np.count_nonzero(wet)))
    rows = [f"{a:.7f},{b:.7f},{d / FOOT_M:.2f}" for a, b, d in zip(lon, lat, noisy, strict=True)]
    log = tmp_path / "day.csv"
    log.write_text("lon,lat,depth_ft\n" + "\n".join(rows) + "\n")
    found = leadsman("lake", "add", "Day", str(log), "--cell", "10 m", "--json").document
    assert found["check"]["rmse_m"] < found["check"]["published_rmse_m"][1]
    assert 0.85 <= found["check"]["coverage_90"] <= 0.95
    day = open_lake("Day").model
    gx, gy = np.meshgrid(day.lattice.x_m, day.lattice.y_m)
    at, _ = truth.sample_lonlat(*day.lattice.frame.to_lonlat(gx, gy))
    known = np.isfinite(day.depth_m) & np.isfinite(at)
    inside = np.abs(day.depth_m - at)[known] <= 1.645 * day.se_m[known]
    assert 0.85 <= np.mean(inside) <= 0.97
