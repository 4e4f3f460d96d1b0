"""GPX with depths, within the rules of GPX 1.1."""

from __future__ import annotations

from pathlib import Path

import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.load_soundings import SoundingOptions, load_soundings
from leadsman.lake.read_gpx import read_gpx

HEAD = (
    '<?xml version="1.0"?><gpx version="1.1" creator="t" xmlns="http://www.topografix.com/GPX/1/1">'
)


def write(folder: Path, body: str, head: str = HEAD) -> Path:
    path = folder / "track.gpx"
    path.write_text(head + body + "</gpx>", encoding="utf-8")
    return path


def test_depth_in_an_extension(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        '<trk><trkseg><trkpt lat="45.2" lon="-93.1"><ele>260</ele>'
        "<time>2017-01-10T00:00:05Z</time>"
        '<extensions><d:depth xmlns:d="urn:x">3.5</d:depth></extensions></trkpt></trkseg></trk>',
    )
    soundings, report = read_gpx(path)
    assert soundings.depth_m == pytest.approx([3.5])
    assert soundings.time_s == pytest.approx([17176 * 86400 + 5.0])
    assert report.points_in == 1
    feet, _ = read_gpx(path, depth_unit="ft")
    assert feet.depth_m == pytest.approx([3.5 * 0.3048])


def test_elevation_is_no_depth_unless_said(tmp_path: Path) -> None:
    path = write(tmp_path, '<wpt lat="45.2" lon="-93.1"><ele>-4</ele></wpt>')
    with pytest.raises(LakeDataError, match="no point holds a usable depth"):
        read_gpx(path)
    soundings, report = load_soundings(path, SoundingOptions(elevation_is_depth=True))
    assert soundings.depth_m == pytest.approx([4.0])
    assert any("as you said" in text for text in report.said)


def test_depth_in_text(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        '<wpt lat="45.2" lon="-93.1"><desc>Edge, depth 12.5 ft</desc></wpt>'
        '<wpt lat="45.2" lon="-93.2"><name>Depth: 4 m</name></wpt>'
        '<wpt lat="45.2" lon="-93.3"><name>dock</name></wpt>'
        '<wpt lat="99" lon="-93.3"><name>Depth: 4 m</name></wpt>',
    )
    soundings, report = read_gpx(path)
    assert soundings.depth_m == pytest.approx([12.5 * 0.3048, 4.0])
    assert {item.reason: item.count for item in report.dropped} == {
        "point without a depth": 1,
        "position is not on Earth or is missing": 1,
    }


BOMB = (
    '<?xml version="1.0"?><!DOCTYPE gpx [<!ENTITY a "aaaaaaaaaa">'
    + "".join(f'<!ENTITY {chr(98 + i)} "{("&" + chr(97 + i) + ";") * 10}">' for i in range(9))
    + "]><gpx>&j;</gpx>"
)


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (BOMB, "hostile"),
        ('<!DOCTYPE x SYSTEM "file:///etc/hostname"><gpx/>', "hostile"),
        (HEAD + "<wpt", "damaged"),
        ("<?xml version='1.0'?><kml/>", "not GPX"),
        (HEAD + "</gpx>", "holds no points"),
        (HEAD + '<wpt lat="nan" lon="1"><name>Depth 3 m</name></wpt></gpx>', "no point holds"),
        (
            HEAD + '<wpt lat="1" lon="1"><name>Depth 1000000000 m</name></wpt></gpx>',
            "no point holds",
        ),
        ("<?xml version='1.0' encoding='nonsense'?><gpx/>", "damaged"),
    ],
)
def test_hostile_files(tmp_path: Path, content: str, words: str) -> None:
    path = tmp_path / "bad.gpx"
    path.write_text(content, encoding="utf-8")
    with pytest.raises(LakeDataError, match=words):
        load_soundings(path)
