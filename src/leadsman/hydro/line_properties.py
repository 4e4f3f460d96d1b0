"""A fishing line as a thin elastic filament."""

from __future__ import annotations

import math
from dataclasses import dataclass

from leadsman.errors import QuantityError


@dataclass(frozen=True, slots=True)
class LineProperties:
    """What the physics needs to know of a line.

    Parameters
    ----------
    diameter_m : float
        Diameter, unstretched and wet [m].
    density_kg_m3 : float
        Density of the line itself [kg m-3].
    modulus_pa : float
        Tensile modulus E at low strain; ``math.inf`` for a line that does not
        stretch [Pa].

    Raises
    ------
    QuantityError
        A value lies outside what is physical.
    """

    diameter_m: float
    density_kg_m3: float
    modulus_pa: float = math.inf

    def __post_init__(self) -> None:
        if not 2e-5 <= self.diameter_m <= 5e-3:
            raise QuantityError(
                f"line diameter {self.diameter_m * 1e3:.4g} mm is outside 0.02 to 5 mm",
                "line diameter",
            )
        if not 300.0 <= self.density_kg_m3 <= 20_000.0:
            raise QuantityError(
                f"line density {self.density_kg_m3:.4g} kg/m3 is outside 300 to 20000 kg/m3",
                "line density",
            )
        if not self.modulus_pa >= 1e7:
            raise QuantityError(
                f"line modulus {self.modulus_pa:.3g} Pa is under 0.01 GPa", "line modulus"
            )

    @property
    def section_m2(self) -> float:
        """Area of the unstretched section [m2]."""
        return math.pi / 4.0 * self.diameter_m**2

    @property
    def stiffness_n(self) -> float:
        """Tension per unit strain, E A [N]."""
        return self.modulus_pa * self.section_m2

    @property
    def mass_per_length_kg_m(self) -> float:
        """Mass of one unstretched metre [kg m-1]."""
        return self.density_kg_m3 * self.section_m2
