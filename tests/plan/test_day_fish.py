from __future__ import annotations

import numpy as np
import pytest
from believable_days import a_day, guessed, known

from leadsman.plan.day_fish import (
    clear_water_factor,
    come_up_m,
    forage_factor,
    grass_factor,
    nothing_known,
    spawning_factor,
    wind_factor,
    your_depth,
)

Z = np.linspace(0.0, 15.0, 151)


def peak_m(values: np.ndarray) -> float:
    return float(Z[int(np.argmax(values))])


def test_with_nothing_known_shallow_is_likelier() -> None:
    found = nothing_known(a_day(), Z)
    assert np.all(np.diff(found.depth) <= 0.0)
    assert found.basis == "own assumption"


@pytest.mark.parametrize(
    ("species", "celsius", "spawns"),
    [
        # habitat suitability reports FWS/OBS-82/10.36 and 10.72
        ("smallmouth", 12.0, False), ("smallmouth", 13.0, True), ("smallmouth", 20.9, True),
        ("smallmouth", 21.5, False), ("spotted", 13.0, False), ("spotted", 18.0, True),
        ("spotted", 24.0, False),
    ],
)  # fmt: skip
def test_spawning_ranges(species, celsius, spawns) -> None:
    day = a_day(species=species, surface_c=known(celsius), warming=True)
    found = spawning_factor(day, Z)
    assert (found is not None) == spawns
    if found is not None:
        assert peak_m(found.depth) == 0.0
        assert found.cover["flat"] > 1.0


def test_no_spawning_in_autumn_and_half_of_it_without_a_date() -> None:
    spring, autumn, unknown = (
        spawning_factor(a_day(surface_c=known(18.0), warming=w), Z) for w in (True, False, None)
    )
    assert spring is not None and unknown is not None
    assert autumn is None
    assert unknown.is_guess
    assert spring.depth[-1] < unknown.depth[-1] < 1.0


def test_a_guessed_temperature_counts_by_its_chance_of_lying_in_the_range() -> None:
    sure = spawning_factor(a_day(surface_c=known(18.0), warming=True), Z)
    vague = spawning_factor(a_day(surface_c=guessed(18.0, 12.0, 34.0), warming=True), Z)
    assert sure is not None and vague is not None
    assert vague.depth[-1] > sure.depth[-1]


def test_grass_gathers_fish_at_its_edge() -> None:
    found = grass_factor(a_day(grass_edge_m=known(4.0)), Z)
    assert found is not None
    assert peak_m(found.depth) == pytest.approx(4.0, abs=0.11)
    assert found.cover["edge"] > 1.0
    none = grass_factor(a_day(grass="none"), Z)
    assert none is not None and none.cover["edge"] < 1.0
    assert np.all(none.depth == 1.0)


def test_a_guessed_edge_counts_less_and_is_wider() -> None:
    sure = grass_factor(a_day(grass_edge_m=known(4.0)), Z)
    vague = grass_factor(a_day(grass_edge_m=guessed(4.0, 2.0, 8.0)), Z)
    assert sure is not None and vague is not None
    assert float(np.mean(vague.depth)) > float(np.mean(sure.depth))


@pytest.mark.parametrize(
    ("kind", "cover"), [("baitfish", "open_water"), ("crayfish", "drop"), ("panfish", "edge")]
)
def test_fish_are_where_their_food_is(kind, cover) -> None:
    found = forage_factor(a_day(forage=kind, forage_m=6.0), Z)
    assert found is not None
    assert peak_m(found.depth) == pytest.approx(6.0, abs=0.11)
    assert max(found.cover, key=lambda c: found.cover[c]) == cover


def test_wind_brings_fish_up_and_calm_does_not() -> None:
    calm, blow = (wind_factor(a_day(wind_m_s=v), Z) for v in (0.0, 7.0))
    assert calm is not None and blow is not None
    assert np.all(calm.depth == 1.0)
    assert blow.depth[0] > blow.depth[-1]
    assert blow.cover["flat"] > 1.0


def test_your_own_sight_counts_but_does_not_shut_the_rest() -> None:
    found = your_depth(a_day(fish_m=(4.0, 5.0)), Z)
    assert found is not None and found.basis == "your word"
    assert 0.0 < found.depth.min() < 0.2
    assert 4.0 <= peak_m(found.depth) <= 5.0


@pytest.mark.parametrize(
    ("secchi_m", "max_depth_m", "rises"),
    [(1.5, 25.0, False), (7.0, 25.0, True), (7.0, 5.0, False)],
)
def test_fish_come_up_only_in_very_clear_deep_water(secchi_m, max_depth_m, rises) -> None:
    # fact of the trade: in very clear, deep water fish at 25 to 30 ft come up to a lure well above
    # them (common practice, no source)
    day = a_day(secchi_m=known(secchi_m), max_depth_m=max_depth_m)
    assert (come_up_m(day) > 0.0) == rises
    assert (clear_water_factor(day, Z) is not None) == rises
