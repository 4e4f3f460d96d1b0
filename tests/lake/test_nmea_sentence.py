"""Sentences against the examples of the gpsd project's NMEA page ("NMEA Revealed")."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.lake.nmea_sentence import (
    DepthReading,
    Sentence,
    parse_depth,
    parse_fix,
    parse_sentence,
    parse_zda_day,
)

GPSD = "gpsd project, NMEA Revealed"


def sentence(text: str) -> Sentence:
    found = parse_sentence(text)
    assert isinstance(found, Sentence), found
    return found


def signed(body: str) -> str:
    value = 0
    for char in body:
        value ^= ord(char)
    return f"${body}*{value:02X}"


@pytest.mark.parametrize(
    ("text", "talker", "kind"),
    [
        ("$INDPT,2.3,0.0*46", "IN", "DPT"),
        ("$SDDBT,7.8,f,2.4,M,1.3,F*0D", "SD", "DBT"),
        ("$INMTW,17.9,C*1B", "IN", "MTW"),
        ("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47", "GP", "GGA"),
        (
            "$GNRMC,001031.00,A,4404.13993,N,12118.86023,W,0.146,,100117,,,A*7B",
            "GN",
            "RMC",
        ),
    ],
)
def test_published_examples_pass_their_checksum(text: str, talker: str, kind: str) -> None:
    found = sentence(text)
    assert (found.talker, found.kind) == (talker, kind)


def test_published_example_with_a_wrong_checksum_is_refused() -> None:
    assert parse_sentence("$SDDPT,4.2,0.5,*4F") == "wrong checksum"


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("$SDDBT,7.8,f,2.4,M,1.3,F", "no checksum"),
        ("$SDDBT,7.8,f,2.4,M,1.3,F*", "wrong checksum"),
        ("$SDDBT,7.8,f,2.4,M,1.3,F*0", "wrong checksum"),
        ("$SDDBT,7.8,f,2.4,M,1.3,F*zz", "wrong checksum"),
        ("$SD" + "x" * 300, "damaged sentence"),
        ("$,,*00", "damaged sentence"),
        ("plain words", None),
        ("", None),
    ],
)
def test_faults_are_named(text: str, fault: str | None) -> None:
    assert parse_sentence(text) == fault


def test_a_loggers_own_prefix_is_skipped() -> None:
    found = sentence("2025-06-01 10:00:00.1 $INDPT,2.3,0.0*46\r\n")
    assert found.fields == ("2.3", "0.0")


def test_position_of_the_published_gga() -> None:
    fix = parse_fix(sentence("$GPGGA,123519,4807.038,N,01131.000,E,1,08,0.9,545.4,M,46.9,M,,*47"))
    assert fix is not None
    assert fix.lat_deg == pytest.approx(48.1173, abs=1e-9)
    assert fix.lon_deg == pytest.approx(11.516667, abs=1e-6)
    assert fix.time_of_day_s == 12 * 3600 + 35 * 60 + 19
    assert fix.day_s is None, "GGA carries no date"


def test_position_and_date_of_the_published_rmc() -> None:
    fix = parse_fix(sentence("$GNRMC,001031.00,A,4404.13993,N,12118.86023,W,0.146,,100117,,,A*7B"))
    assert fix is not None
    assert fix.lat_deg == pytest.approx(44.0 + 4.13993 / 60.0, abs=1e-9)
    assert fix.lon_deg == pytest.approx(-(121.0 + 18.86023 / 60.0), abs=1e-9)
    # 2017-01-10 00:00 UTC in seconds since 1970, by any calendar: 17176 days.
    assert fix.day_s == 17176 * 86400


def test_southern_and_western_positions_are_negative() -> None:
    fix = parse_fix(sentence(signed("GPGLL,3330.000,S,07030.000,W,120000,A,A")))
    assert fix is not None
    assert (fix.lat_deg, fix.lon_deg) == (pytest.approx(-33.5), pytest.approx(-70.5))


@pytest.mark.parametrize(
    "body",
    [
        "GPGGA,123519,4807.038,N,01131.000,E,0,00,,,M,,M,,",
        "GPGLL,4807.038,N,01131.000,E,123519,V,N",
        "GPRMC,123519,V,4807.038,N,01131.000,E,0,,010120,,,N",
        "GPGLL,9107.038,N,01131.000,E,123519,A,A",
        "GPGLL,4861.000,N,01131.000,E,123519,A,A",
        "GPGLL,4807.038,X,01131.000,E,123519,A,A",
        "GPGLL,,,,,123519,A,A",
    ],
)
def test_no_fix_where_there_is_none(body: str) -> None:
    assert parse_fix(sentence(signed(body))) is None


def test_date_of_zda() -> None:
    # Day 15156 after 1970-01-01 is 2011-07-01.
    assert parse_zda_day(sentence(signed("GPZDA,201530.00,01,07,2011,00,00"))) == 15156 * 86400


def test_dbt_takes_the_finest_of_its_units() -> None:
    # 7.8 ft is 2.377 m; "2.4 M" and "1.3 F" are the same rounded to a tenth.
    assert parse_depth(sentence("$SDDBT,7.8,f,2.4,M,1.3,F*0D")) == DepthReading(
        pytest.approx(7.8 * 0.3048), "transducer"
    )


def test_dbt_that_contradicts_itself_is_damaged() -> None:
    assert parse_depth(sentence(signed("SDDBT,78.0,f,2.4,M,1.3,F"))) == "damaged"


@pytest.mark.parametrize(
    ("body", "depth_m", "below"),
    [
        ("INDPT,2.3,0.0", 2.3, "transducer"),
        ("SDDPT,4.2,0.5", 4.7, "surface"),
        ("SDDPT,4.2,-0.5", 4.2, "transducer"),
        ("SDDPT,4.2,", 4.2, "transducer"),
        ("SDDPT,4.2,0.5,100", 4.7, "surface"),
        ("SDDBS,,f,3.10,M,,F", 3.1, "surface"),
        ("SDDBK,,f,3.10,M,,F", 3.1, "keel"),
    ],
)
def test_what_a_depth_is_measured_from(body: str, depth_m: float, below: str) -> None:
    reading = parse_depth(sentence(signed(body)))
    assert isinstance(reading, DepthReading)
    assert (reading.depth_m, reading.below) == (pytest.approx(depth_m), below)


@pytest.mark.parametrize("body", ["SDDBT,,f,,M,,F", "SDDPT,,0.5"])
def test_lost_bottom_is_told(body: str) -> None:
    assert parse_depth(sentence(signed(body))) == "no bottom"


@pytest.mark.parametrize("body", ["SDDPT,nan,0.5", "SDDPT,1e9,0", "SDDPT,-3,0", "SDDBT,x,f,1,M,,F"])
def test_numbers_that_are_none_are_damaged(body: str) -> None:
    assert parse_depth(sentence(signed(body))) == "damaged"


@given(st.text(max_size=120))
def test_no_text_breaks_the_parser(text: str) -> None:
    found = parse_sentence("$" + text)
    if isinstance(found, Sentence):
        parse_fix(found), parse_depth(found), parse_zda_day(found)
    body = "".join(c for c in text if c.isascii() and c.isprintable() and c not in "$*")
    for start in ("GPGGA,", "GPRMC,", "GPGLL,", "GPZDA,", "SDDBT,", "SDDPT,"):
        inner = parse_sentence(signed(start + body))
        if isinstance(inner, Sentence):
            parse_fix(inner), parse_depth(inner), parse_zda_day(inner)
