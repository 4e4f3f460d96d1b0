"""What to mind: fish brought up from deep or warm water, weather, law."""

from __future__ import annotations

from leadsman.plan.day_types import Day, DepthMiddle

INJURY_M = 6.0
"""Depth from which pressure injury is typical in smallmouth bass [m] (Elliott et al. 2021,
N. Am. J. Fish. Manage. 41:834-843)."""
LIVEWELL_MOST_C = 29.0
LIVEWELL_LEAST_MG_L = 5.5
"""Warmest livewell and least oxygen in it [degC, mg L-1]: published handling advice (Brungs &
Jones 1977 and the habitat suitability reports, read only where cited)."""
COLD_WATER_C = 15.0
"""Water in which a fall overboard kills quickly [degC]: usual safety advice, from memory."""
STRONG_WIND_M_S = 8.9
"""Wind of 20 mph [m s-1]: small boats stay near shelter. Common practice, no source."""


def cautions(day: Day, fish_m: DepthMiddle) -> tuple[str, ...]:
    """What to mind on such a day, the law first.

    Parameters
    ----------
    day : Day
        Day [-].
    fish_m : DepthMiddle
        Where the fish are [m].
    """
    units = day.units
    found = [
        "Local law comes first: licence, closed seasons, limits, protected vegetation.",
    ]
    if fish_m.high_90 > INJURY_M:
        found.append(
            f"Fish from below {units.depth.text(INJURY_M)} are often hurt by the change of "
            "pressure (typical in smallmouth): let them go at once where that is allowed; piercing "
            "the swim bladder is not advised."
        )
    warm = units.temperature.text(LIVEWELL_MOST_C)
    surface = day.surface_c
    well = (
        f"Livewell: at least {LIVEWELL_LEAST_MG_L:g} mg/L oxygen and at most {warm}; pump and "
        "check it."
    )
    if surface is not None and surface.high > LIVEWELL_MOST_C - 2.0:
        well += (
            f" The surface is at {units.temperature.text(surface.value)}: keep few fish, not for "
            "long, or none."
        )
    found.append(well)
    if surface is not None and surface.low < COLD_WATER_C:
        found.append(
            f"Water under {units.temperature.text(COLD_WATER_C)} disables a swimmer in minutes: "
            "wear the life jacket, not only carry it."
        )
    if day.wind_m_s is not None and day.wind_m_s >= STRONG_WIND_M_S:
        found.append(f"Wind {units.speed.text(day.wind_m_s)}: stay where there is shelter.")
    found.append(
        "Lightning: off the water at the first thunder. Life jacket and engine cut-off on. An "
        "outlook is a guess, not for navigation."
    )
    return tuple(found)
