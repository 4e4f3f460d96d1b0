"""What fishing lines are made of: density, modulus, strength, each with its spread.

No published measurement of fishing line covers all of this, so each value is a
handbook value of the polymer, recalled from memory, and the spreads are wide
enough to hold the products of the trade. The strength is an *effective* one:
pound test over the section of the wet line as sold, so it also holds the
habits of labelling. It is the weakest number here; a measured diameter makes
it irrelevant.

Read: a solid-state drawn poly(vinylidene fluoride) film reached a modulus of
4.0 GPa at the greatest draw ratio of 5.3 (abstract of "Solid-state deformation
of poly(vinylidene fluoride): orientation by solid-state coextrusion"), which is
an upper end for fluorocarbon.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

MaterialName = Literal["nylon", "fluorocarbon", "copolymer", "braid"]


@dataclass(frozen=True, slots=True)
class LineMaterial:
    """One material of fishing line.

    Parameters
    ----------
    name : {"nylon", "fluorocarbon", "copolymer", "braid"}
        Name [-].
    density_kg_m3 : float
        Density of the wet line over its outer section [kg m-3].
    density_sd_kg_m3 : float
        Spread (standard deviation) of it [kg m-3].
    modulus_pa : float
        Tensile modulus at low strain, wet [Pa].
    modulus_log_sd : float
        Spread of its natural logarithm [-].
    strength_pa : float
        Effective strength: pound test over the outer section [Pa].
    strength_log_sd : float
        Spread of its natural logarithm [-].
    source : str
        Where the numbers come from [-].
    """

    name: MaterialName
    density_kg_m3: float
    density_sd_kg_m3: float
    modulus_pa: float
    modulus_log_sd: float
    strength_pa: float
    strength_log_sd: float
    source: str


NYLON = LineMaterial(
    "nylon", 1140.0, 10.0, 1.6e9, 0.35, 600e6, 0.16,
    "density of polyamide 6 and 6.6 (1.13 to 1.15 g/cm3), modulus of drawn wet monofilament "
    "(1 to 2.5 GPa) and strength (0.45 to 0.75 GPa): handbook values, from memory",
)  # fmt: skip
"""Nylon monofilament. Water softens it by a third or more; the wet value is meant."""

FLUOROCARBON = LineMaterial(
    "fluorocarbon", 1780.0, 15.0, 2.2e9, 0.30, 700e6, 0.16,
    "poly(vinylidene fluoride): density (1.75 to 1.80 g/cm3), modulus of drawn monofilament "
    "(1.5 to 3.5 GPa) and strength (0.55 to 0.85 GPa): handbook values, from memory",
)  # fmt: skip
"""Fluorocarbon (poly(vinylidene fluoride)) monofilament, which takes up no water."""

COPOLYMER = LineMaterial(
    "copolymer", 1130.0, 15.0, 1.8e9, 0.35, 640e6, 0.18,
    "nylon copolymers: a little stronger and stiffer than plain nylon, common practice, no source",
)  # fmt: skip
"""Copolymer nylon monofilament."""

BRAID = LineMaterial(
    "braid", 975.0, 20.0, 25e9, 0.60, 1.9e9, 0.30,
    "ultra-high-molecular-weight polyethylene fibre (0.97 g/cm3, 2.5 to 3.6 GPa, about 100 GPa: "
    "handbook values, from memory), times our own estimate of 0.75 for the filled part of the "
    "section (the rest is water) and 0.8 for the loss of strength in the braid; the modulus of a "
    "braid is a quarter of the fibre's, no source",
)  # fmt: skip
"""Braided polyethylene. Fibres lie at an angle and bed in, so it stretches more than they do."""

MATERIALS: dict[MaterialName, LineMaterial] = {
    material.name: material for material in (NYLON, FLUOROCARBON, COPOLYMER, BRAID)
}
"""Every material by name."""

TYPICAL_DIAMETERS_MM: dict[MaterialName, dict[int, float]] = {
    "nylon": {6: 0.23, 8: 0.26, 10: 0.30, 12: 0.33, 14: 0.35, 17: 0.39, 20: 0.43},
    "fluorocarbon": {6: 0.22, 8: 0.25, 10: 0.28, 12: 0.31, 14: 0.33, 17: 0.37, 20: 0.41},
    "braid": {10: 0.17, 15: 0.20, 20: 0.23, 30: 0.28, 50: 0.36},
}
"""Diameters [mm] that anglers expect by pound test [lb]: rounded, common practice, no source.

Kept to check the derived diameters against, never used to compute a depth.
"""


def diameter_from_test_m(test_n: float, material: LineMaterial) -> float:
    """Diameter that a line of one material needs for its pound test.

    d = sqrt(4 F / (pi sigma)), the strength of materials' definition of stress.

    Parameters
    ----------
    test_n : float
        Pound test as a force F [N].
    material : LineMaterial
        Material with its effective strength sigma [-].

    Returns
    -------
    float
        Diameter [m].
    """
    return math.sqrt(4.0 * test_n / (math.pi * material.strength_pa))


def diameter_log_sd(material: LineMaterial) -> float:
    """Spread of the natural logarithm of the derived diameter, half that of the strength [-]."""
    return 0.5 * material.strength_log_sd
