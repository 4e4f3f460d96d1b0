"""Soundings and reports as types."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.soundings import Dropped, DropTally, ReadReport, Soundings


def test_arrays_have_to_fit() -> None:
    one, two = np.zeros(1), np.zeros(2)
    for arrays in ((one, two, two), (two, two, one), (two, two, two, one)):
        with pytest.raises(LakeDataError, match="one depth for each"):
            Soundings(*arrays)
    for bad in (np.nan, np.inf):
        with pytest.raises(LakeDataError, match="not a number"):
            Soundings(one, one, np.array([bad]))
    with pytest.raises(LakeDataError, match="not on Earth"):
        Soundings(one, np.array([91.0]), one)


def test_a_part_keeps_its_times() -> None:
    all_of_it = Soundings(np.arange(3.0), np.arange(3.0), np.arange(3.0), np.arange(3.0), "a")
    part = all_of_it.where(np.array([True, False, True]))
    assert len(part) == 2
    assert part.time_s is not None
    assert part.time_s.tolist() == [0.0, 2.0]
    assert part.source == "a"


def test_report_says_everything() -> None:
    tally = DropTally.empty()
    for line in range(9):
        tally.add("spike", line)
    tally.add("stray", None, 2)
    tally.add("nothing", None, 0)
    report = ReadReport("log", "nmea", 20, 9, ("In feet",), tally.dropped(), ("the level",))
    assert report.dropped_count == 11
    text = report.summary()
    for part in (
        "20 read, 9 kept",
        "In feet.",
        "9 x spike (line 0, 1, 2, 3, 4 ...)",
        "2 x stray",
        "Check: the level",
    ):
        assert part in text
    assert str(Dropped("x", 1234)) == "1,234 x x"
