"""Water column, light and sun against published values and real profiles.

Each check names its source. Real data are used where they are, and never committed.
"""

from __future__ import annotations

import csv
import os
from datetime import UTC, date, datetime, timedelta, timezone
from pathlib import Path

import numpy as np
import pytest

from leadsman.lake.clarity import KSD_CLASSIC, KSD_HIGH, KSD_LOW, KSD_WALKER, light_share
from leadsman.lake.lake_guesses import fetch_thermocline_m, guess_surface_c, guess_thermocline
from leadsman.lake.read_profile import ProfileTable, choose_profile, read_profiles
from leadsman.lake.water_column import oxygen_floor_m, saturation_mg_l, thermocline_m
from leadsman.plan.day_belief import share_below
from leadsman.plan.sun import sun_position, sun_times
from leadsman.usecases.outlook import OutlookQuestion, find_outlook

SHARED = Path(os.environ.get("LEADSMAN_SHARED_DATA", Path(__file__).parents[3] / "shared" / "data"))
MENDOTA = SHARED / "mendota_profiles" / "ntl400_v4.csv"
MENDOTA_DEG = (43.1, -89.4)


@pytest.fixture(scope="module")
def mendota() -> ProfileTable:
    """Profiles of Lake Mendota, North Temperate Lakes LTER (CC BY 4.0)."""
    if not MENDOTA.exists():
        pytest.skip("real profiles are not here (set LEADSMAN_SHARED_DATA)")
    return read_profiles(MENDOTA)


def test_every_profile_is_read_and_what_was_detected_is_said(mendota: ProfileTable) -> None:
    assert len(mendota.profiles) == 99
    assert mendota.profiles[0].day == date(2017, 9, 29)
    assert mendota.profiles[-1].day == date(2022, 10, 28)
    said = " ".join(mendota.said)
    for words in ("'wtemp'", "'do_raw'", "degC", "mg/L", "probe's zero"):
        assert words in said


@pytest.mark.parametrize(
    ("day", "thermocline", "floor"),
    [("2018-06-21", 7.58, 13.0), ("2018-07-17", 6.89, 7.0), ("2018-08-16", 9.10, 7.0)],
)
def test_thermocline_and_oxygen_of_real_profiles(mendota, day, thermocline, floor) -> None:
    # method of Read et al. 2011, Environ. Model. Softw. 26:1325-1336, worked out apart
    profile = choose_profile(mendota, date.fromisoformat(day))
    assert thermocline_m(profile) == pytest.approx(thermocline, abs=0.005)
    assert oxygen_floor_m(profile) == floor


@pytest.mark.parametrize(("fetch_m", "depth_m"), [(1000.0, 5.79), (5000.0, 9.95)])
def test_thermocline_from_the_length_of_the_lake(fetch_m: float, depth_m: float) -> None:
    # Hanna 1990, Can. J. Fish. Aquat. Sci. 47:940-947, read only where cited
    assert fetch_thermocline_m(fetch_m) == pytest.approx(depth_m, abs=0.01)


def test_the_guess_covers_a_real_summer(mendota: ProfileTable) -> None:
    # Lake Mendota is about 9 km long (from memory); the formula alone is too deep there
    guess = guess_thermocline(9000.0)
    summer = [p for p in mendota.profiles if p.day is not None and p.day.month in (7, 8)]
    depths = [at for at in map(thermocline_m, summer) if at is not None]
    inside = sum(guess.low <= at <= guess.high for at in depths)
    assert inside >= 0.8 * len(depths)
    assert fetch_thermocline_m(9000.0) > max(depths)


def test_the_guess_of_the_surface_covers_real_years(mendota: ProfileTable) -> None:
    covered = []
    for profile in mendota.profiles:
        assert profile.day is not None
        guess = guess_surface_c(profile.day.timetuple().tm_yday, MENDOTA_DEG[0])
        covered.append(guess.low <= profile.surface_c <= guess.high)
    assert np.mean(covered) >= 0.9


@pytest.mark.parametrize(("celsius", "mg_l"), [(0.0, 14.62), (20.0, 9.09), (30.0, 7.56)])
def test_oxygen_in_balance_with_air(celsius: float, mg_l: float) -> None:
    # standard table of oxygen in fresh water at 1 atm, from memory
    assert saturation_mg_l(np.array([celsius]))[0] == pytest.approx(mg_l, abs=0.01)


def test_percent_of_saturation_against_a_real_probe(mendota: ProfileTable) -> None:
    # the probe reports both mg/L and percent; their ratio is its own saturation
    with MENDOTA.open(encoding="utf-8") as handle:
        rows = [r for r in csv.DictReader(handle) if r["do_raw"] and float(r["do_raw"]) > 4.0]
    celsius = np.array([float(r["wtemp"]) for r in rows])
    probe = np.array([100.0 * float(r["do_raw"]) / float(r["do_sat"]) for r in rows])
    assert np.max(np.abs(probe / saturation_mg_l(celsius) - 1.0)) < 0.01


def test_constants_of_light() -> None:
    # K times Secchi depth: 1.1 to 2.8 by water type, 1.7 classic (from memory), 1.45 Walker 1980
    assert (KSD_LOW, KSD_HIGH, KSD_CLASSIC, KSD_WALKER) == (1.1, 2.8, 1.7, 1.45)
    # closed form: at the Secchi depth exp(-1.7) = 18 % is left by the classic value
    assert float(light_share(3.0, 3.0)) == pytest.approx(0.1827, abs=1e-4)


def test_sun_position() -> None:
    # Reda & Andreas, NREL/TP-560-34302, its worked example: delta T 67 s, 820 mbar, 11 degC
    when = datetime(2003, 10, 17, 12, 30, 30, tzinfo=timezone(timedelta(hours=-7)))
    found = sun_position(when, 39.742476, -105.1786, 1830.14, 82000.0, 11.0, 67.0)
    assert found.zenith_deg == pytest.approx(50.11162, abs=1e-5)
    assert found.azimuth_deg == pytest.approx(194.34024, abs=1e-5)


def test_sunrise_and_sunset() -> None:
    zone = timezone(timedelta(hours=-7))
    found = sun_times(date(2003, 10, 17), 39.742476, -105.1786, zone, 67.0)
    assert found.sunrise is not None and found.sunset is not None
    assert abs(found.sunrise - datetime(2003, 10, 17, 6, 12, 43, tzinfo=zone)) <= timedelta(
        seconds=1
    )
    # the same report's table gives sunset 17:20:19
    assert abs(found.sunset - datetime(2003, 10, 17, 17, 20, 19, tzinfo=zone)) <= timedelta(
        seconds=1
    )


def test_an_outlook_for_a_lake_without_oxygen_below_seven_metres(mendota: ProfileTable) -> None:
    answer = find_outlook(
        OutlookQuestion(
            profile=MENDOTA,
            day=date(2018, 7, 17),
            place_deg=MENDOTA_DEG,
            zone="America/Chicago",
            secchi_m=1.5,  # between the readings of 9 and 23 July 2018, 1.8 and 1.2 m
        )
    )
    found = answer.outlook
    assert share_below(found.depth_m, found.fish_per_m, 7.0) < 0.01
    assert found.ruled_out[0].low_m == 7.0
    assert "oxygen" in found.ruled_out[0].why
    assert "oxygen" in answer.headline and "23 ft" in answer.headline
    # in June of that year there was oxygen down to 13 m, and so there is some belief below 7 m
    june = find_outlook(OutlookQuestion(profile=MENDOTA, day=date(2018, 6, 21), secchi_m=2.2))
    assert share_below(june.outlook.depth_m, june.outlook.fish_per_m, 7.0) > 0.01


def test_utc_is_taken_as_it_is() -> None:
    local = datetime(2003, 10, 17, 12, 30, 30, tzinfo=timezone(timedelta(hours=-7)))
    same = sun_position(local.astimezone(UTC), 39.742476, -105.1786)
    assert same == sun_position(local, 39.742476, -105.1786)
