"""GPX against the order and types of the GPX 1.1 schema, and read back by our reader."""

from __future__ import annotations

from datetime import UTC, datetime
from pathlib import Path

import numpy as np
import pytest
from defusedxml import ElementTree
from hypothesis import given
from hypothesis import strategies as st

from leadsman.lake.read_gpx import read_gpx
from leadsman.output.gpx import (
    DEPTH_NAMESPACE,
    GPX_NAMESPACE,
    Track,
    Waypoint,
    gpx_text,
    write_gpx,
)

NS = f"{{{GPX_NAMESPACE}}}"
# Sequences of the GPX 1.1 schema (topografix.com/GPX/1/1/gpx.xsd), from memory.
ORDER = {
    "gpx": ["metadata", "wpt", "rte", "trk", "extensions"],
    "metadata": ["name", "desc", "author", "copyright", "link", "time", "keywords"],
    "wpt": ["ele", "time", "name", "cmt", "desc", "src", "link", "sym", "type", "extensions"],
    "rtept": ["ele", "time", "name", "cmt", "desc", "src", "link", "sym", "type", "extensions"],
    "trkpt": ["ele", "time", "name", "cmt", "desc", "src", "link", "sym", "type", "extensions"],
    "rte": ["name", "cmt", "desc", "src", "link", "number", "type", "extensions", "rtept"],
    "trk": ["name", "cmt", "desc", "src", "link", "number", "type", "extensions", "trkseg"],
    "trkseg": ["trkpt", "extensions"],
}

LINE = Track(np.array([-93.0, -93.001]), np.array([45.0, 45.001]), "Edge <1>", "a & b", 4.0)
ROUTE = Track(np.array([-93.0, -93.001]), np.array([45.0, 45.001]), "Run", is_route=True)
PLACE = Waypoint(-93.0, 45.0, "1 point", "Steep outside", 4.0)


def check_order(element) -> None:
    name = element.tag.removeprefix(NS)
    if name not in ORDER:
        return
    places = [ORDER[name].index(child.tag.removeprefix(NS)) for child in element]
    assert places == sorted(places), f"children of {name} stand in the wrong order"
    for child in element:
        check_order(child)


def test_elements_stand_in_the_schemas_order() -> None:
    text = gpx_text([PLACE], [LINE, ROUTE], "Lake", datetime(2025, 7, 1, tzinfo=UTC))
    root = ElementTree.fromstring(text.encode())
    assert root.tag == f"{NS}gpx"
    assert root.attrib["version"] == "1.1"
    assert root.attrib["creator"]
    check_order(root)


def test_depth_is_an_extension_and_in_words_and_never_an_elevation() -> None:
    root = ElementTree.fromstring(gpx_text([PLACE], [LINE]).encode())
    assert root.find(f".//{NS}ele") is None
    depths = root.findall(f".//{{{DEPTH_NAMESPACE}}}depth")
    assert [float(d.text) for d in depths] == [4.0] * 4
    assert "Depth 4.0 m (13 ft)" in root.find(f"{NS}wpt/{NS}desc").text


def test_there_and_back(tmp_path: Path) -> None:
    path = tmp_path / "a.gpx"
    write_gpx(path, [PLACE], [LINE], "Lake")
    soundings, _ = read_gpx(path)
    assert soundings.depth_m == pytest.approx([4.0, 4.0, 4.0])
    assert soundings.lon_deg == pytest.approx([-93.0, -93.0, -93.001])


def test_longitude_180_is_written_as_the_schema_wants_it() -> None:
    """GPX 1.1: -180 <= longitude < 180."""
    assert 'lon="-180.0000000"' in gpx_text([Waypoint(180.0, 1.0, "x")])


def test_caution_is_there() -> None:
    assert "Not for navigation" in gpx_text()


@given(st.text(max_size=60), st.text(max_size=60))
def test_any_text_stays_well_formed(name: str, text: str) -> None:
    clean = "".join(c for c in name if not 0xD800 <= ord(c) <= 0xDFFF)
    ElementTree.fromstring(
        gpx_text(
            [Waypoint(0.0, 0.0, clean, clean + text.encode("ascii", "ignore").decode())]
        ).encode()
    )


@pytest.mark.parametrize("lon", [float("nan"), 200.0])
def test_positions_off_the_earth_are_a_fault(lon: float) -> None:
    with pytest.raises(ValueError, match="not on Earth"):
        gpx_text([Waypoint(lon, 0.0, "x")])
