"""Fresh water: density and viscosity by temperature."""

from __future__ import annotations

from dataclasses import dataclass

from leadsman.errors import QuantityError

TEMPERATURE_MIN_C = 0.0
TEMPERATURE_MAX_C = 40.0
"""Range of the density formula, and of any lake [degC]."""

_VISCOSITY_TERMS = ((280.68, -1.9), (511.45, -7.7), (61.131, -19.6), (0.45903, -40.0))
"""Coefficients [1e-6 Pa s] and exponents [-] of the viscosity at 0.1 MPa (IAPWS 2008)."""


@dataclass(frozen=True, slots=True)
class Water:
    """Still water of one temperature.

    Parameters
    ----------
    density_kg_m3 : float
        Density; the default is that of fresh water at 20 degC [kg m-3].
    viscosity_pa_s : float
        Dynamic viscosity; the default is that of water at 20 degC [Pa s].

    Raises
    ------
    QuantityError
        A value is not that of water.
    """

    density_kg_m3: float = 998.2336
    viscosity_pa_s: float = 1.002e-3

    def __post_init__(self) -> None:
        if not 900.0 <= self.density_kg_m3 <= 1300.0:
            raise QuantityError(
                f"water density {self.density_kg_m3:.4g} kg/m3 is outside 900 to 1300 kg/m3",
                "water density",
                "Fresh water is 996 to 1000 kg/m3, sea water about 1025",
            )
        if not 1e-4 <= self.viscosity_pa_s <= 1e-2:
            raise QuantityError(
                f"water viscosity {self.viscosity_pa_s:.4g} Pa s is outside 0.0001 to 0.01 Pa s",
                "water viscosity",
                "Water is 0.0018 Pa s at freezing and 0.0008 at 30 degC",
            )

    @classmethod
    def fresh(cls, temperature_c: float) -> Water:
        """Fresh water at a temperature.

        Parameters
        ----------
        temperature_c : float
            Temperature of the water, 0 to 40 [degC].

        Returns
        -------
        Water
            Density and viscosity at that temperature and atmospheric pressure.

        Raises
        ------
        QuantityError
            The temperature is not that of open water.
        """
        return cls(fresh_density_kg_m3(temperature_c), fresh_viscosity_pa_s(temperature_c))


def fresh_density_kg_m3(temperature_c: float) -> float:
    """Density of fresh water [kg m-3].

    Parameters
    ----------
    temperature_c : float
        Temperature, 0 to 40 [degC].

    Raises
    ------
    QuantityError
        The temperature is not that of open water.

    Notes
    -----
    Martin & McCutcheon 1999, Hydrodynamics and Transport for Water Quality
    Modeling (title from memory). What is dissolved in lake water raises it by well under 0.1 %.
    """
    _check_temperature(temperature_c)
    t = temperature_c
    return 1000.0 * (1.0 - (t + 288.9414) * (t - 3.9863) ** 2 / (508929.2 * (t + 68.12963)))


def fresh_viscosity_pa_s(temperature_c: float) -> float:
    """Dynamic viscosity of water at atmospheric pressure [Pa s].

    Parameters
    ----------
    temperature_c : float
        Temperature, 0 to 40 [degC].

    Raises
    ------
    QuantityError
        The temperature is not that of open water.

    Notes
    -----
    The form for liquid water at 0.1 MPa, IAPWS supplementary release of 2008,
    from memory; it agrees with published tables within 0.1 %.
    """
    _check_temperature(temperature_c)
    ratio = (temperature_c + 273.15) / 300.0
    return float(1e-6 * sum(factor * ratio**power for factor, power in _VISCOSITY_TERMS))


def _check_temperature(temperature_c: float) -> None:
    if not TEMPERATURE_MIN_C <= temperature_c <= TEMPERATURE_MAX_C:
        raise QuantityError(
            f"water temperature {temperature_c:.4g} degC is outside 0 to 40 degC",
            "water temperature",
        )
