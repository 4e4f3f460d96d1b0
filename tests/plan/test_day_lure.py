from __future__ import annotations

import re

import pytest
from believable_days import a_day, known

from leadsman.belief.levels import COLOUR_FAMILIES, SOUNDS
from leadsman.plan.day_lure import start_with

# Facts of the trade, common practice, no source: the direction only.


def test_dirty_water_wants_the_most_visible_colours() -> None:
    # 6 to 8 in of visibility
    for inches in (6.0, 8.0):
        found = start_with(a_day(secchi_m=known(inches * 0.0254)))
        assert found.colour == "light"
        assert found.colours["light"] + found.colours["dark"] > 3.0 * found.colours["natural"]
        assert "most visible, contrasting" in found.colour_why


def test_clear_water_wants_natural_patterns() -> None:
    found = start_with(a_day(secchi_m=known(4.0)))
    assert found.colour == "natural"
    assert "natural patterns of the forage" in found.colour_why


@pytest.mark.parametrize(
    ("changes", "sound"),
    [
        ({"secchi_m": known(0.6)}, "rattling"),
        ({"secchi_m": known(2.0), "grass": "thick"}, "rattling"),
        ({"secchi_m": known(6.0)}, "silent"),
        ({"secchi_m": known(2.0), "pressure": "heavy"}, "silent"),
    ],
    ids=["coloured", "thick grass", "very clear", "heavily fished"],
)
def test_sound_to_start_with(changes, sound) -> None:
    found = start_with(a_day(**changes))
    assert found.sound == sound
    assert found.sounds[sound] > 0.55


def test_reasons_that_pull_apart_are_both_told() -> None:
    found = start_with(a_day(secchi_m=known(6.0), grass="thick"))
    assert "very clear water" in found.sound_why
    assert "thick grass" in found.sound_why
    assert 0.3 < found.sounds["silent"] < 0.75


def test_the_other_sound_is_kept_for_when_a_place_dies() -> None:
    found = start_with(a_day(secchi_m=known(0.6)))
    assert "15 to 20 fish" in found.sound_why
    assert found.sounds["silent"] > 0.1


def test_colours_bass_confuse_share_a_family_and_the_source_is_named() -> None:
    # Mitchem et al. 2019, Curr. Zool. 65:43-52: chartreuse and white, blue and black
    why = start_with(a_day(secchi_m=known(2.0))).colour_why
    assert "10.1093/cz/zoy019" in why
    assert "chartreuse for white" in why
    assert "blue for black" in why


def test_no_coefficient_of_turbidity_is_made_up() -> None:
    # Sweka & Hartman 2003 and Huenemann et al. 2012 are known by their abstracts only
    why = start_with(a_day(secchi_m=known(0.18))).colour_why
    assert "Sweka & Hartman 2003" in why
    assert not re.search(r"NTU|\d\s*%|\d\s*cm|exp|coefficient", why)


def test_crayfish_bring_red() -> None:
    plain = start_with(a_day(secchi_m=known(3.0)))
    eaten = start_with(a_day(secchi_m=known(3.0), forage="crayfish"))
    assert eaten.colours["red"] > plain.colours["red"]


def test_your_own_choice_stands() -> None:
    found = start_with(a_day(secchi_m=known(0.2), sound="silent", colour="natural"))
    assert (found.sound, found.colour) == ("silent", "natural")
    assert found.sound_why == "Your own choice"


@pytest.mark.parametrize("secchi_m", [0.1, 0.5, 1.5, 3.0, 8.0])
def test_weights_add_up_to_one(secchi_m: float) -> None:
    found = start_with(a_day(secchi_m=known(secchi_m), forage="crayfish"))
    assert sum(found.sounds.values()) == pytest.approx(1.0)
    assert sum(found.colours.values()) == pytest.approx(1.0)
    assert set(found.sounds) == set(SOUNDS)
    assert set(found.colours) == set(COLOUR_FAMILIES)
