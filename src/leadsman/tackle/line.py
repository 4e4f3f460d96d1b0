"""A fishing line as it is bought, and as the physics needs it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from leadsman.dimensions import DENSITY, FORCE, LENGTH, PRESSURE
from leadsman.errors import KitError, Where
from leadsman.hydro.line_properties import LineProperties
from leadsman.tackle.checks import check_between, check_name
from leadsman.tackle.line_materials import (
    MATERIALS,
    MaterialName,
    diameter_from_test_m,
    diameter_log_sd,
)

DiameterKind = Literal["measured", "nominal", "from test"]

MEASURED_LOG_SD = 0.02
"""Spread of a diameter read on a micrometer or caliper: 0.006 mm in 0.31 mm [-]; our estimate."""
NOMINAL_LOG_SD = 0.06
"""Spread of a diameter printed on a spool [-]; common practice, no source."""


@dataclass(frozen=True, slots=True)
class Line:
    """A fishing line.

    Parameters
    ----------
    name : str
        Name in the kit [-].
    material : {"nylon", "fluorocarbon", "copolymer", "braid"}
        What it is made of [-].
    test_n : float or None
        Pound test as a force [N].
    diameter_m : float or None
        Diameter; None derives it from the pound test [m].
    diameter_measured : bool
        True if the diameter was measured, False if it is printed on the spool [-].
    density_kg_m3 : float or None
        Density; None takes the material's [kg m-3].
    modulus_pa : float or None
        Tensile modulus; None takes the material's [Pa].

    Raises
    ------
    KitError
        No such line can exist, or neither test nor diameter is given.
    """

    name: str
    material: MaterialName
    test_n: float | None = None
    diameter_m: float | None = None
    diameter_measured: bool = False
    density_kg_m3: float | None = None
    modulus_pa: float | None = None

    def __post_init__(self) -> None:
        check_name(self.name, "line")
        if self.material not in MATERIALS:
            raise KitError(
                f"unknown line material '{self.material}'",
                Where(field="material"),
                f"Use one of {', '.join(MATERIALS)}",
            )
        if self.test_n is None and self.diameter_m is None:
            raise KitError(
                "a line needs its pound test or its diameter",
                Where(field="test"),
                'Add for example test = "12 lb"',
            )
        if self.test_n is not None:
            check_between(self.test_n, 2.0, 1000.0, "test", FORCE, "lb")
        if self.diameter_m is not None:
            check_between(self.diameter_m, 5e-5, 2e-3, "diameter", LENGTH, "mm")
        if self.density_kg_m3 is not None:
            check_between(self.density_kg_m3, 800.0, 8000.0, "density", DENSITY, "g/cm3")
        if self.modulus_pa is not None:
            check_between(self.modulus_pa, 1e8, 3e11, "modulus", PRESSURE, "GPa")
        self._check_strength()

    def _check_strength(self) -> None:
        """A test that its section cannot carry is a slip of a unit."""
        if self.test_n is None or self.diameter_m is None:
            return
        material = MATERIALS[self.material]
        ratio = self.diameter_m / diameter_from_test_m(self.test_n, material)
        if not 0.45 <= ratio <= 2.5:
            usual = diameter_from_test_m(self.test_n, material) * 1e3
            raise KitError(
                f"{self.diameter_m * 1e3:.3g} mm does not fit the pound test of a "
                f"{self.material} line, which is usually about {usual:.2f} mm",
                Where(field="diameter"),
                "Check the diameter, the test and their units",
            )

    @property
    def diameter_kind(self) -> DiameterKind:
        """Where the diameter comes from [-]."""
        if self.diameter_m is None:
            return "from test"
        return "measured" if self.diameter_measured else "nominal"


@dataclass(frozen=True, slots=True)
class LineSpread:
    """How uncertain a line's properties are.

    Parameters
    ----------
    diameter_log_sd : float
        Standard deviation of ln diameter [-].
    density_sd_kg_m3 : float
        Standard deviation of the density [kg m-3].
    modulus_log_sd : float
        Standard deviation of ln modulus [-].
    """

    diameter_log_sd: float
    density_sd_kg_m3: float
    modulus_log_sd: float


def line_properties(line: Line) -> LineProperties:
    """A line as the physics needs it, gaps filled from its material.

    Parameters
    ----------
    line : Line
        Line [-].
    """
    material = MATERIALS[line.material]
    diameter_m = line.diameter_m
    if diameter_m is None:
        assert line.test_n is not None  # a Line has one of the two
        diameter_m = diameter_from_test_m(line.test_n, material)
    return LineProperties(
        diameter_m=diameter_m,
        density_kg_m3=line.density_kg_m3 or material.density_kg_m3,
        modulus_pa=line.modulus_pa or material.modulus_pa,
    )


def line_spread(line: Line) -> LineSpread:
    """How uncertain those properties are.

    Parameters
    ----------
    line : Line
        Line [-].
    """
    material = MATERIALS[line.material]
    by_kind = {
        "measured": MEASURED_LOG_SD,
        "nominal": NOMINAL_LOG_SD,
        "from test": diameter_log_sd(material),
    }
    return LineSpread(
        diameter_log_sd=by_kind[line.diameter_kind],
        density_sd_kg_m3=material.density_sd_kg_m3 if line.density_kg_m3 is None else 5.0,
        modulus_log_sd=material.modulus_log_sd if line.modulus_pa is None else 0.1,
    )
