"""Logs of depth and position sentences."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.read_nmea import read_nmea


def signed(body: str) -> str:
    value = 0
    for char in body:
        value ^= ord(char)
    return f"${body}*{value:02X}"


def gll(lat_min: float, clock: str, lon: str = "00130.0000,E") -> str:
    return signed(f"GPGLL,51{lat_min:07.4f},N,{lon},{clock},A,A")


def write(folder: Path, lines: list[str]) -> Path:
    path = folder / "log.nmea"
    path.write_text("\r\n".join(lines) + "\r\n", encoding="ascii")
    return path


def test_depths_lie_between_the_fixes_around_them(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        [
            gll(20.0, "120000"),
            signed("SDDPT,3.0,0.4"),
            gll(20.01, "120002"),
            signed("SDDPT,4.0,0.4"),
            gll(20.02, "120004"),
        ],
    )
    soundings, report = read_nmea(path)
    assert soundings.depth_m == pytest.approx([3.4, 4.4])
    assert soundings.lat_deg == pytest.approx([51.0 + 20.005 / 60.0, 51.0 + 20.015 / 60.0])
    assert soundings.time_s == pytest.approx([43201.0, 43203.0])
    assert soundings.time_has_date is False
    assert any("No sentence carries a date" in text for text in report.said)


def test_date_comes_from_zda_and_midnight_is_passed(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        [
            signed("GPZDA,235958,30,06,2011,00,00"),
            gll(20.0, "235958"),
            signed("SDDPT,3.0,0.4"),
            gll(20.01, "000002"),
        ],
    )
    soundings, _ = read_nmea(path)
    # Midnight between 2011-06-30 and 07-01 is day 15156 after 1970-01-01.
    assert soundings.time_s == pytest.approx([15156 * 86400.0])
    assert soundings.time_has_date


def test_antimeridian_is_crossed_the_short_way(tmp_path: Path) -> None:
    path = write(
        tmp_path,
        [
            gll(20.0, "120000", "17959.9990,E"),
            signed("SDDPT,3.0,0.4"),
            gll(20.0, "120002", "17959.9990,W"),
        ],
    )
    soundings, _ = read_nmea(path)
    assert abs(abs(soundings.lon_deg[0]) - 180.0) < 1e-9


def test_everything_left_out_is_counted_with_its_line(tmp_path: Path) -> None:
    lines: list[str] = []
    for i in range(6):
        lines += [gll(20.0 + 0.002 * i, f"1200{2 * i:02d}"), signed("SDDPT,3.0,0.4")]
    lines += [
        "$SDDPT,4.2,0.5,*4F",
        signed("SDDPT,,0.4"),
        "$SDDPT,9.9,0.4",
        "words of no use",
        gll(20.012, "120012"),
        signed("SDDPT,0.0,0.4"),
        gll(20.014, "120014"),
    ]
    soundings, report = read_nmea(write(tmp_path, lines))
    assert len(soundings) == 6
    counts = {item.reason: (item.count, item.lines) for item in report.dropped}
    assert counts["wrong checksum"] == (1, (13,))
    assert counts["no bottom in the sentence"] == (1, (14,))
    assert counts["no checksum"] == (1, (15,))
    assert counts["line that is no sentence"] == (1, (16,))
    assert counts["zero depth: the sounder had lost the bottom"] == (1, (18,))


def test_two_kinds_of_depth_sentence_count_once(tmp_path: Path) -> None:
    lines = []
    for i in range(5):
        lines += [
            gll(20.0 + 0.002 * i, f"1200{2 * i:02d}"),
            signed("SDDBT,9.8,f,3.0,M,1.6,F"),
            signed("SDDPT,3.0,0.4"),
        ]
    soundings, report = read_nmea(write(tmp_path, lines))
    assert len(soundings) == 5
    assert soundings.depth_m == pytest.approx([3.4] * 5), "DPT with its offset tells more"
    assert any("second report" in item.reason and item.count == 5 for item in report.dropped)


def test_depth_below_the_transducer_is_said_and_corrected(tmp_path: Path) -> None:
    lines = [gll(20.0, "120000"), signed("SDDPT,3.0,-0.5"), gll(20.001, "120002")]
    plain, report = read_nmea(write(tmp_path, lines))
    assert plain.depth_m == pytest.approx([3.0])
    assert report.warnings
    fixed, report = read_nmea(write(tmp_path, lines), transducer_depth_m=0.3)
    assert fixed.depth_m == pytest.approx([3.3])
    assert not report.warnings


def test_a_stray_fix_does_not_drag_depths_along(tmp_path: Path) -> None:
    lines = []
    for i in range(10):
        lat_min = 20.0 + 0.002 * i + (1.5 if i == 5 else 0.0)
        lines += [gll(lat_min, f"1200{2 * i:02d}"), signed("SDDPT,3.0,0.4")]
    soundings, report = read_nmea(write(tmp_path, lines))
    assert len(soundings) == 10
    assert np.ptp(soundings.lat_deg) < 0.0004
    assert any("stray" in item.reason and item.count == 1 for item in report.dropped)


def test_a_gap_in_the_fixes_is_not_bridged(tmp_path: Path) -> None:
    lines = [gll(20.0, "120000"), signed("SDDPT,3.0,0.4"), gll(20.001, "120200")]
    with pytest.raises(LakeDataError, match="no fix within 10 s"):
        read_nmea(write(tmp_path, lines))


@pytest.mark.parametrize(
    ("lines", "words"),
    [
        (["$SDDPT,4.2,0.5,*4F"] * 5, "no valid NMEA 0183 sentence"),
        ([gll(20.0, "120000")] * 3, "holds no depth"),
        ([signed("SDDPT,3.0,0.4")] * 3, "no valid position"),
        ([gll(20.0, "120000"), signed("SDDBK,,f,3.1,M,,F")], "holds no depth"),
    ],
)
def test_logs_of_no_use_are_refused(tmp_path: Path, lines: list[str], words: str) -> None:
    with pytest.raises(LakeDataError, match=words):
        read_nmea(write(tmp_path, lines))


def test_transducer_depth_has_bounds(tmp_path: Path) -> None:
    with pytest.raises(LakeDataError, match="0 to 10 m"):
        read_nmea(write(tmp_path, ["x"]), transducer_depth_m=99.0)


def test_real_log_of_a_moored_boat(shared_data) -> None:
    """Gpsd's sounder.log: 122 + 122 valid sentences, 2.3 to 2.5 m, 51 19.881 N 1 25.169 E."""
    soundings, report = read_nmea(shared_data("gpsd_sounder/sounder.log"))
    assert report.points_in == len(soundings) == 122
    assert not report.dropped
    assert np.all((soundings.depth_m > 2.25) & (soundings.depth_m < 2.55))
    assert soundings.lat_deg[0] == pytest.approx(51.0 + 19.881 / 60.0, abs=1e-9)
    assert soundings.lon_deg[0] == pytest.approx(1.0 + 25.169 / 60.0, abs=1e-9)
