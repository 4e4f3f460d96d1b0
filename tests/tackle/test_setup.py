"""What is thrown."""

from __future__ import annotations

from leadsman.tackle.line import Line
from leadsman.tackle.lure import Lure
from leadsman.tackle.reel import Reel
from leadsman.tackle.rod import Rod
from leadsman.tackle.setup import Setup


def make(mass_kg: float) -> Setup:
    return Setup(
        Rod("long", 2.4, 0.014, 0.042),
        Reel("slow", 0.56, 60.0, 3.3e-4),
        Line("fluoro", "fluorocarbon", 53.4, 3.3e-4),
        Lure("a", 0.065, 0.03, 0.02, mass_kg),
    )


def test_what_goes_together_says_nothing() -> None:
    assert make(0.02).cautions(40.0) == ()


def test_lure_and_spool_are_held_against_rod_and_cast() -> None:
    assert "outside the lure masses" in make(0.005).cautions()[0]
    assert "nearly all fluoro off reel slow" in make(0.02).cautions(55.0)[0]
