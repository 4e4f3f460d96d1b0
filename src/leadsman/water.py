"""Fresh water: density and viscosity by temperature."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Water:
    """Still water of one temperature.

    Parameters
    ----------
    density_kg_m3 : float
        Density [kg m-3].
    viscosity_pa_s : float
        Dynamic viscosity [Pa s].
    """

    density_kg_m3: float = 998.2336
    viscosity_pa_s: float = 1.002e-3
