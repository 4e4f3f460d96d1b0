"""Water against published tables."""

from __future__ import annotations

import pytest

from leadsman.errors import QuantityError
from leadsman.water import Water, fresh_density_kg_m3, fresh_viscosity_pa_s


@pytest.mark.parametrize(
    ("temperature_c", "density"),
    [
        (0.0, 999.8676),
        (10.0, 999.7281),
        (15.0, 999.1285),
        (20.0, 998.2336),
        (25.0, 997.0751),
        (30.0, 995.6783),
    ],
)
def test_density_of_martin_and_mccutcheon(temperature_c: float, density: float) -> None:
    # Martin & McCutcheon 1999, their formula worked outside the project.
    assert fresh_density_kg_m3(temperature_c) == pytest.approx(density, abs=6e-5)


def test_water_is_densest_near_4_degrees() -> None:
    # A fact of physics: 3.98 degC.
    at = {t / 100: fresh_density_kg_m3(t / 100) for t in range(0, 1000, 2)}
    assert max(at, key=lambda t: at[t]) == pytest.approx(3.98, abs=0.03)


@pytest.mark.parametrize(
    ("temperature_c", "viscosity_mpa_s"),
    [(0.0, 1.792), (10.0, 1.307), (20.0, 1.002), (30.0, 0.797)],
)
def test_viscosity_of_a_published_table(temperature_c: float, viscosity_mpa_s: float) -> None:
    # Published table of the viscosity of water; the formula is IAPWS 2008, from memory.
    assert fresh_viscosity_pa_s(temperature_c) * 1e3 == pytest.approx(viscosity_mpa_s, rel=1e-3)


def test_default_is_fresh_water_at_20_degrees() -> None:
    water = Water.fresh(20.0)
    assert Water().density_kg_m3 == pytest.approx(water.density_kg_m3, rel=1e-6)
    assert Water().viscosity_pa_s == pytest.approx(water.viscosity_pa_s, rel=1e-3)


@pytest.mark.parametrize("temperature_c", [-0.1, 40.1, 68.0, float("nan")])
def test_a_temperature_no_lake_has_is_refused(temperature_c: float) -> None:
    with pytest.raises(QuantityError, match="outside 0 to 40 degC"):
        Water.fresh(temperature_c)


@pytest.mark.parametrize(
    "bad", [{"density_kg_m3": 1.0}, {"viscosity_pa_s": 0.0}, {"density_kg_m3": float("nan")}]
)
def test_what_is_not_water_is_refused(bad: dict[str, float]) -> None:
    with pytest.raises(QuantityError, match="outside"):
        Water(**bad)
