from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from leadsman.display_units import US
from leadsman.errors import LakeDataError, PlanError
from leadsman.usecases.outlook import OutlookQuestion
from leadsman.usecases.resolve_lake_day import ResolvedLake, resolve_lake

SUMMER, NORTH = date(2024, 7, 20), (45.0, -93.2)


def lake(**known) -> ResolvedLake:
    return resolve_lake(OutlookQuestion(**known), US)


@pytest.fixture
def profile(tmp_path: Path) -> Path:
    path = tmp_path / "profile.csv"
    rows = [(0, 25, 9), (3, 24.8, 9), (5, 24, 8), (6, 20, 5), (7, 15, 1), (9, 12, 0), (12, 10, 0)]
    lines = "\n".join(f"2024-07-18,{z},{t},{o}" for z, t, o in rows)
    path.write_text(f"date,depth_m,temp_c,do_mgl\n{lines}\n", encoding="utf-8")
    return path


def test_readings_come_before_guesses_and_your_word_before_readings(profile: Path) -> None:
    read = lake(profile=profile, day=SUMMER, fetch_m=5000.0)
    assert read.thermocline_m is not None and read.thermocline_m.origin == "measured"
    assert 5.0 < read.thermocline_m.value < 7.0
    assert read.oxygen_floor_m is not None and read.oxygen_floor_m.value == 7.0
    assert read.surface_c is not None and read.surface_c.value == 25.0
    assert read.max_depth_m == 12.0
    assert any("2 days from the day asked" in note for note in read.notes)
    told = lake(profile=profile, day=SUMMER, thermocline_m=8.0, surface_c=22.0, oxygen_floor_m=9.0)
    assert told.thermocline_m is not None and told.thermocline_m.value == 8.0
    assert told.surface_c is not None and told.surface_c.origin == "given"
    assert told.oxygen_floor_m is not None and told.oxygen_floor_m.value == 9.0


def test_a_lake_known_by_its_length_is_guessed_at_in_summer_only() -> None:
    summer = lake(day=SUMMER, place_deg=NORTH, fetch_m=5000.0)
    winter = lake(day=date(2024, 1, 20), place_deg=NORTH, fetch_m=5000.0)
    assert summer.thermocline_m is not None and summer.thermocline_m.is_guess
    assert winter.thermocline_m is None
    assert any("outside summer" in note for note in winter.notes)
    assert summer.surface_c is not None and summer.surface_c.is_guess
    assert any("wide guess" in note for note in summer.notes)


def test_seasons_turn_at_the_equator() -> None:
    north, south = (
        lake(day=date(2024, 12, 20), place_deg=(lat, 0.0), fetch_m=5000.0) for lat in (45.0, -45.0)
    )
    assert not north.summer and south.summer
    assert lake().warming is None


def test_a_warm_skin_is_not_the_thermocline(tmp_path: Path) -> None:
    path = tmp_path / "skin.csv"
    rows = [(0, 29), (0.5, 25), (3, 24.8), (5, 24), (6, 21), (7, 18), (9, 16)]
    path.write_text("depth_m,temp_c\n" + "\n".join(f"{z},{t}" for z, t in rows), encoding="utf-8")
    found = lake(profile=path)
    assert found.thermocline_m is not None
    assert 5.0 < found.thermocline_m.value < 7.0
    assert any("warm skin" in note for note in found.notes)


def test_grass_edge_from_clarity_is_a_guess_within_the_lake() -> None:
    clear = lake(secchi_m=3.0, max_depth_m=20.0)
    assert clear.grass_edge_m is not None and clear.grass_edge_m.is_guess
    # published regressions at 3 m: 11.7 to 13.8 ft (3.57 to 4.21 m)
    assert 3.5 < clear.grass_edge_m.value < 4.3
    assert lake(secchi_m=3.0, max_depth_m=2.0).grass_edge_m is None
    assert lake(secchi_m=3.0, grass="none").grass_edge_m is None
    told = lake(secchi_m=3.0, grass_edge_m=5.0).grass_edge_m
    assert told is not None and told.value == 5.0 and not told.is_guess


def test_a_depth_that_is_not_told_is_said() -> None:
    found = lake()
    assert found.max_depth_m == 12.0
    assert any("not told" in note for note in found.notes)


def test_impossible_numbers() -> None:
    with pytest.raises(PlanError, match="no temperature of open water"):
        lake(surface_c=60.0)
    with pytest.raises(LakeDataError, match="clarity"):
        lake(secchi_m=900.0)
