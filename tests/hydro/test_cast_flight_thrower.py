"""The angler as a launcher."""

from __future__ import annotations

import pytest

from leadsman.hydro.cast_flight_thrower import FITTED, Thrower, shifted
from leadsman.hydro.technique import TakeUp


def test_launch_energy_is_shared_between_lure_and_arm() -> None:
    # m v^2 (1 + m_arm / m) is the same for every lure: own derivation, see the docs page.
    who = Thrower()
    for mass in (0.005, 0.02, 0.08):
        energy = 0.5 * (mass + who.moving_mass_kg) * who.launch_speed_m_s(mass) ** 2
        assert energy == pytest.approx(who.launch_energy_j)


def test_a_longer_rod_throws_the_lighter_lure_the_more_faster() -> None:
    # The arm weighs less at the end of a longer lever (own derivation, see the docs page).
    who = Thrower()
    gain = [who.launch_speed_m_s(m, 2.6) / who.launch_speed_m_s(m, 2.0) for m in (0.01, 0.04)]
    assert gain[0] > gain[1] > 1.0
    # Never more than in proportion to the rod: the speed of a hand that does not tire.
    assert gain[0] < 2.6 / 2.0


def test_a_spool_that_falls_shortens_the_cast() -> None:
    level = Thrower().flight(0.02, 6e-4)
    fallen = Thrower().flight(0.02, 6e-4, spool=TakeUp(0.6, 0.45, 90.0))
    assert 0.7 * level.ahead_m < fallen.ahead_m < level.ahead_m


@pytest.mark.parametrize("which", range(4))
def test_shifted_moves_one_number(which: int) -> None:
    who = shifted(Thrower(), which, 0.1)
    changed = [name for name in FITTED if getattr(who, name) != getattr(Thrower(), name)]
    assert changed == [FITTED[which]]
