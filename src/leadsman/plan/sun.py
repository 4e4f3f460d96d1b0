"""Where the sun stands, by the solar position algorithm of a library."""

from __future__ import annotations

import math
from dataclasses import dataclass
from datetime import date, datetime, timedelta, timezone, tzinfo

from leadsman.errors import PlanError
from leadsman.plan.day_types import HourOfSun

DELTA_T_S = 69.2
"""Terrestrial minus universal time in the 2020s [s], from memory; 2 s move the sun by 0.01 deg."""


@dataclass(frozen=True, slots=True)
class SunPosition:
    """Where the sun stands, seen through the air.

    Parameters
    ----------
    zenith_deg : float
        Angle from straight up [deg].
    azimuth_deg : float
        Direction, clockwise from true north [deg].
    """

    zenith_deg: float
    azimuth_deg: float


@dataclass(frozen=True, slots=True)
class SunTimes:
    """Rise, height and set of one day.

    Parameters
    ----------
    sunrise, noon, sunset : datetime.datetime or None
        Times on the angler's clock; None where the sun does not rise or set [-].
    """

    sunrise: datetime | None
    noon: datetime | None
    sunset: datetime | None


def check_place(lat_deg: float, lon_deg: float) -> None:
    """Refuse a place that is not on Earth.

    Parameters
    ----------
    lat_deg, lon_deg : float
        Latitude and longitude [deg].

    Raises
    ------
    PlanError
        It is none.
    """
    if not (abs(lat_deg) <= 90.0 and abs(lon_deg) <= 180.0):
        raise PlanError(f"{lat_deg:.5g}, {lon_deg:.5g} is not a place on Earth", "place")


def sun_position(
    when: datetime,
    lat_deg: float,
    lon_deg: float,
    altitude_m: float = 0.0,
    pressure_pa: float = 101325.0,
    air_c: float = 12.0,
    delta_t_s: float = DELTA_T_S,
) -> SunPosition:
    """Place of the sun in the sky.

    Parameters
    ----------
    when : datetime.datetime
        Time, with its zone [-].
    lat_deg, lon_deg : float
        Latitude and longitude, north and east positive [deg].
    altitude_m : float
        Height of the place above the sea [m].
    pressure_pa : float
        Air pressure, for refraction [Pa].
    air_c : float
        Air temperature, for refraction [degC].
    delta_t_s : float
        Terrestrial minus universal time [s].

    Raises
    ------
    PlanError
        The place is not on Earth.

    Notes
    -----
    Reda & Andreas 2004, Solar Energy 76:577-589 (title and pages from memory), NREL/TP-560-34302,
    as coded in pvlib.
    """
    check_place(lat_deg, lon_deg)
    import pandas as pd
    from pvlib.solarposition import spa_python

    found = spa_python(
        pd.DatetimeIndex([when]), lat_deg, lon_deg,
        altitude=altitude_m, pressure=pressure_pa, temperature=air_c, delta_t=delta_t_s,
    )  # fmt: skip
    return SunPosition(float(found["apparent_zenith"].iloc[0]), float(found["azimuth"].iloc[0]))


def sun_times(
    day: date, lat_deg: float, lon_deg: float, zone: tzinfo, delta_t_s: float = DELTA_T_S
) -> SunTimes:
    """Sunrise, solar noon and sunset of a calendar day.

    Parameters
    ----------
    day : datetime.date
        Day on the angler's clock [-].
    lat_deg, lon_deg : float
        Latitude and longitude, north and east positive [deg].
    zone : datetime.tzinfo
        Time zone of the clock [-].
    delta_t_s : float
        Terrestrial minus universal time [s].

    Raises
    ------
    PlanError
        The place is not on Earth.
    """
    check_place(lat_deg, lon_deg)
    import pandas as pd
    from pvlib.solarposition import sun_rise_set_transit_spa

    midday = datetime(day.year, day.month, day.day, 12, tzinfo=zone)
    found = sun_rise_set_transit_spa(
        pd.DatetimeIndex([midday]), lat_deg, lon_deg, delta_t=delta_t_s
    )

    def time(name: str) -> datetime | None:
        value = found[name].iloc[0]
        if pd.isna(value):
            return None
        told: datetime = value.round("s").to_pydatetime()
        return told

    return SunTimes(time("sunrise"), time("transit"), time("sunset"))


def hours_of_sun(
    day: date, lat_deg: float, lon_deg: float, zone: tzinfo, from_h: float, to_h: float
) -> tuple[HourOfSun, ...]:
    """Height of the sun in the middle of each hour that is fished.

    Parameters
    ----------
    day : datetime.date
        Day on the angler's clock [-].
    lat_deg, lon_deg : float
        Latitude and longitude, north and east positive [deg].
    zone : datetime.tzinfo
        Time zone of the clock [-].
    from_h, to_h : float
        First and last hour on the clock; the last hour may be a short one [h].

    Raises
    ------
    PlanError
        The hours run backwards or the place is not on Earth.
    """
    if not 0.0 <= from_h < to_h <= 24.0:
        raise PlanError(
            f"fishing from {from_h:.4g} to {to_h:.4g} h is no stretch of one day",
            "hours",
            "Give the first hour before the last, both from 0 to 24",
        )
    check_place(lat_deg, lon_deg)
    import pandas as pd
    from pvlib.solarposition import spa_python

    starts = [from_h + i for i in range(math.ceil(to_h - from_h - 1e-9))]
    midnight = datetime(day.year, day.month, day.day, tzinfo=zone)
    middles = [midnight + timedelta(hours=0.5 * (h + min(h + 1.0, to_h))) for h in starts]
    found = spa_python(pd.DatetimeIndex(middles), lat_deg, lon_deg, delta_t=DELTA_T_S)
    heights = found["apparent_elevation"].to_numpy()
    return tuple(HourOfSun(h, math.radians(float(e))) for h, e in zip(starts, heights, strict=True))


def solar_zone(lon_deg: float) -> timezone:
    """The whole-hour zone a place would have by its longitude alone.

    Parameters
    ----------
    lon_deg : float
        Longitude, east positive [deg].
    """
    return timezone(timedelta(hours=round(lon_deg / 15.0)))
