from __future__ import annotations

from believable_days import a_day, known

from leadsman.plan.day_cautions import cautions
from leadsman.plan.day_types import DepthMiddle

SHALLOW = DepthMiddle(2.0, 1.0, 3.0, 0.5, 4.0)
DEEP = DepthMiddle(7.0, 5.0, 8.0, 3.0, 9.0)


def test_the_law_comes_first_and_lightning_always() -> None:
    found = cautions(a_day(), SHALLOW)
    assert found[0].startswith("Local law")
    assert "Lightning" in found[-1]
    assert "not for navigation" in found[-1]


def test_fish_from_deep_are_hurt() -> None:
    # Elliott et al. 2021, N. Am. J. Fish. Manage. 41:834-843: typical from deeper than 6 m; venting
    # is not advised
    assert not any("pressure" in line for line in cautions(a_day(), SHALLOW))
    (line,) = (line for line in cautions(a_day(), DEEP) if "pressure" in line)
    assert "19.7 ft" in line
    assert "not advised" in line


def test_livewell_limits_are_told_and_warm_water_warned_of() -> None:
    # at least 5.5 mg/L and at most 29 degC (84.2 degF): published handling advice
    (mild,) = (x for x in cautions(a_day(surface_c=known(20.0)), SHALLOW) if "Livewell" in x)
    (warm,) = (x for x in cautions(a_day(surface_c=known(28.0)), SHALLOW) if "Livewell" in x)
    assert "5.5 mg/L" in mild and "84 degF" in mild
    assert "keep few fish" in warm and "keep few fish" not in mild


def test_cold_water_and_strong_wind() -> None:
    found = " ".join(cautions(a_day(surface_c=known(8.0), wind_m_s=11.0), SHALLOW))
    assert "wear the life jacket" in found
    assert "shelter" in found
