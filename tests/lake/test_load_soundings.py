"""Files told by what is in them."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leadsman.errors import LakeDataError
from leadsman.lake.demo_lake import EDGE_NAME, LOG_NAME, data_folder
from leadsman.lake.load_soundings import load_soundings


def test_kind_is_told_by_content(tmp_path: Path) -> None:
    assert load_soundings(data_folder() / LOG_NAME)[1].file_format == "nmea"
    assert load_soundings(data_folder() / EDGE_NAME)[1].file_format == "csv"
    odd = tmp_path / "log.csv"
    odd.write_bytes((data_folder() / LOG_NAME).read_bytes()[:9000])
    assert load_soundings(odd)[1].file_format == "nmea"


@settings(
    max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(st.binary(max_size=400))
def test_no_bytes_break_it(tmp_path: Path, data: bytes) -> None:
    path = tmp_path / "any"
    path.write_bytes(data)
    try:
        soundings, report = load_soundings(path)
    except LakeDataError as error:
        assert str(error)
    else:
        assert len(soundings) == report.points_kept > 0


@settings(
    max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(st.integers(0, 8000), st.binary(min_size=1, max_size=30))
def test_a_damaged_log_never_crashes(tmp_path: Path, at: int, junk: bytes) -> None:
    data = bytearray((data_folder() / LOG_NAME).read_bytes()[:9000])
    data[at : at + len(junk)] = junk
    path = tmp_path / "log"
    path.write_bytes(bytes(data))
    try:
        load_soundings(path)
    except LakeDataError as error:
        assert str(error)


def test_devices_and_missing_files(tmp_path: Path) -> None:
    with pytest.raises(LakeDataError, match="no such file"):
        load_soundings(tmp_path / "none")
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(LakeDataError, match="not a file"):
        load_soundings(pipe)
