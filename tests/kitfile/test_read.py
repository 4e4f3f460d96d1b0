"""Reading a kit file: what is right is read, each mistake gets one clear message."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import KitError
from leadsman.kitfile.read import MAX_BYTES, parse_kit, read_kit
from leadsman.kitfile.template import demo_kit_text

LURE = """[lures.deep-long]
body_length = "2 3/4 in"
lip_length = "1.5 in"
lip_width = "22 mm"
mass = "3/4 oz"
rated_depth = "18-20 ft"
rated_line_test = "10 lb"
"""
LINE = """[lines.fluoro]
material = "fluorocarbon"
test = "12 lb"
diameter = "0,31 mm"
"""
REEL = """[reels.slow]
take_up_full = "22 in"
capacity = "120 yd"
capacity_diameter = "0.33 mm"
"""
ROD = """[rods.long]
length = "7'10\\""
lure_mass = "1/2-1-1/2 oz"
"""
GOOD = LURE + LINE + REEL + ROD
GOOD += '[combos.deep]\nrod = "long"\nreel = "SLOW"\nline = "fluoro"\n'


def test_quantities_arrive_in_si() -> None:
    kit = parse_kit(GOOD)
    lure = kit.lure("deep-long")
    assert lure.body_length_m == pytest.approx(0.06985)
    assert lure.lip_width_m == pytest.approx(0.022)
    assert lure.mass_kg == pytest.approx(0.75 * 0.028349523125)
    assert lure.rated is not None
    assert (lure.rated.shallow_m, lure.rated.deep_m) == pytest.approx((5.4864, 6.096))
    assert lure.rated.test.line_test_n == pytest.approx(44.482216152605)
    assert kit.line("fluoro").diameter_m == pytest.approx(3.1e-4)
    assert kit.rod("long").length_m == pytest.approx(2.3876)
    assert kit.rod("long").lure_max_kg == pytest.approx(1.5 * 0.028349523125)
    assert kit.combo("deep").reel is kit.reel("slow")


def test_angler_and_casts() -> None:
    kit = parse_kit(
        GOOD + '[angler]\ngrip_height = "5 ft"\n[[angler.casts]]\nmass = "18 g"\nlength = "50 yd"\n'
    )
    assert kit.angler.grip_height_m == pytest.approx(1.524)
    assert kit.angler.casts[0].length_m == pytest.approx(45.72)


def test_either_spelling_of_colour() -> None:
    for word in ("colour", "color"):
        kit = parse_kit(GOOD.replace('mass = "3/4 oz"', f'mass = "3/4 oz"\n{word} = "dark"'))
        assert kit.lures[0].colour == "dark"


MISTAKES = [
    # what stands in the file, what it becomes, line, field, part of the message
    ('mass = "3/4 oz"', 'mass = "3/4"', 5, "lures.deep-long.mass", "no unit"),
    ('mass = "3/4 oz"', "mass = 18", 5, "lures.deep-long.mass", "no unit"),
    ('mass = "3/4 oz"', 'mass = "20 ft"', 5, "lures.deep-long.mass", "is a length, but a mass"),
    ('mass = "3/4 oz"', 'mass = "3/4 ozz"', 5, "lures.deep-long.mass", "Perhaps 'oz'"),
    ('mass = "3/4 oz"', 'mass = "-1 oz"', 5, "lures.deep-long.mass", "outside"),
    ('mass = "3/4 oz"', 'mass = "75 kg"', 5, "lures.deep-long.mass", "outside"),
    ('mass = "3/4 oz"', 'mass = "nan g"', 5, "lures.deep-long.mass", "number"),
    ('mass = "3/4 oz"', "mass = nan", 5, "lures.deep-long.mass", "number"),
    ('mass = "3/4 oz"', "mass = true", 5, "lures.deep-long.mass", "not a mass"),
    ('mass = "3/4 oz"', "mass = 1979-05-27", 5, "lures.deep-long.mass", "not a mass"),
    ('mass = "3/4 oz"', "mass = []", 5, "lures.deep-long.mass", "not a mass"),
    ('mass = "3/4 oz"', 'mas = "3/4 oz"', 5, "lures.deep-long.mas", "Perhaps 'mass'"),
    ('mass = "3/4 oz"', 'mass = "3/4 oz"\nmass = "1 oz"', 6, None, "a second time"),
    ('mass = "3/4 oz"', 'mass = "1e999 oz"', 5, "lures.deep-long.mass", "too large"),
    ('mass = "3/4 oz"', 'mass = "3/0 oz"', 5, "lures.deep-long.mass", "divides by zero"),
    ('mass = "3/4 oz"\n', "", 1, "lures.deep-long.mass", "is missing"),
    ('"18-20 ft"', '"20-18 ft"', 6, "lures.deep-long.rated_depth", "backwards"),
    ('"18-20 ft"', '"200 ft"', 6, "lures.deep-long.rated_depth", "outside"),
    ('rated_depth = "18-20 ft"\n', "", 1, "lures.deep-long.rated_depth", "not the depth"),
    ('"10 lb"', '"10 ft"', 7, "lures.deep-long.rated_line_test", "is a length"),
    ('"10 lb"', '"10 lb"\nsound = "ratling"', 8, "lures.deep-long.sound", "Perhaps 'rattling'"),
    ('"10 lb"', '"10 lb"\nsound = "loud"', 8, "lures.deep-long.sound", "Use rattling or silent"),
    ('"10 lb"', "2026-01-01", 7, "lures.deep-long.rated_line_test", "2026-01-01 is not a"),
    ('"10 lb"', '"10 lb"\nsound = 3', 8, "lures.deep-long.sound", "is not one of"),
    ('"10 lb"', '"10 lb"\nopen_hooks = "two"', 8, "lures.deep-long.open_hooks", "whole number"),
    ('"10 lb"', '"10 lb"\nopen_hooks = 99', 8, "lures.deep-long.open_hooks", "0 to 6"),
    ('"10 lb"', '"10 lb"\nmodel = 5', 8, "lures.deep-long.model", "text in quotes"),
    ('"10 lb"', '"10 lb"\nbuoyancy = "-2 g"', 8, "lures.deep-long.buoyancy", "floats"),
    ('"fluorocarbon"', '"flourocarbon"', 9, "lines.fluoro.material", "Perhaps 'fluorocarbon'"),
    ('"fluorocarbon"', "fluorocarbon", 9, None, "Put quantities in quotes"),
    ('"0,31 mm"', '"0.31 in"', 11, "lines.fluoro.diameter", "outside"),
    ('"0,31 mm"', '"0.95 mm"', 11, "lines.fluoro.diameter", "does not fit"),
    ('"0,31 mm"', '"1,310 mm"', 11, "lines.fluoro.diameter", "thousands mark"),
    ("[reels.slow]", "[reel.slow]", 12, "reel", "Perhaps 'reels'"),
    ("[reels.slow]", "[reels.slow", 12, None, "not readable"),
    ('"22 in"', '"22 ft"', 13, "reels.slow.take_up_full", "outside"),
    ('"120 yd"', '"120 yd"\ntake_up_half = "30 in"', 15, "reels.slow.take_up_half", "greater"),
    ('"7\'10\\""', "\"7'10", 17, None, "not readable"),
    ('"1/2-1-1/2 oz"', '"1 1/2-1/2 oz"', 18, "rods.long.lure_mass", "backwards"),
    ('"1/2-1-1/2 oz"', '"1/2-1 oz"\npower = "stiff"', 19, "rods.long.power", "is not one of"),
    ('rod = "long"', 'rod = "lang"', 20, "combos.deep.rod", "Perhaps 'long'"),
    ('rod = "long"', 'rod = ["long"]', 20, "combos.deep.rod", "text in quotes"),
    ("[combos.deep]", "[combo.deep]", 19, "combo", "Perhaps 'combos'"),
    ("[lines.fluoro]", '[lines."\\u0007"]', 8, "lines.?", "name"),
]


@pytest.mark.parametrize(("old", "new", "line", "field", "says"), MISTAKES)
def test_each_mistake_gets_one_message(
    old: str, new: str, line: int, field: str | None, says: str
) -> None:
    assert GOOD.count(old) == 1
    with pytest.raises(KitError) as caught:
        parse_kit(GOOD.replace(old, new), Path("kit.toml"))
    error = caught.value
    assert says in error.message
    assert (error.where.source, error.where.line, error.where.field) == ("kit.toml", line, field)
    assert "\n" not in error.message and "Traceback" not in error.message


def test_names_that_differ_only_by_case_are_refused() -> None:
    twice = LURE + LURE.replace("deep-long", "Deep-Long")
    with pytest.raises(KitError, match="same name") as caught:
        parse_kit(twice)
    assert caught.value.where.line == 8


def test_several_mistakes_are_counted() -> None:
    text = GOOD.replace('"3/4 oz"', '"3/4"').replace('"0,31 mm"', '"thin"')
    with pytest.raises(KitError, match="and 1 more") as caught:
        parse_kit(text)
    assert caught.value.where.field == "lures.deep-long.mass"


@pytest.mark.parametrize("text", ["", "# nothing yet\n", 'units = "us"\n'])
def test_empty_kit(text: str) -> None:
    with pytest.raises(KitError, match="no lures and no lines"):
        parse_kit(text)


def test_files_that_are_no_kit(tmp_path: Path) -> None:
    latin = tmp_path / "latin.toml"
    latin.write_bytes(LINE.encode() + "# \xe9t\xe9".encode("latin-1"))
    huge = tmp_path / "huge.toml"
    huge.write_bytes(b"#" * (MAX_BYTES + 1))
    cases = [
        (tmp_path, "directory"),
        (tmp_path / "none.toml", "no such file"),
        (latin, "not UTF-8"),
        (huge, "too large"),
        (Path("a\0b"), "not a possible file name"),
        (tmp_path / ("x" * 5000), "cannot be opened"),
    ]
    for path, says in cases:
        with pytest.raises(KitError, match=says) as caught:
            read_kit(path)
        assert "\n" not in caught.value.message
    with pytest.raises(KitError) as caught:
        read_kit(latin)
    assert caught.value.where.line == 5


def test_deep_nesting_is_refused() -> None:
    with pytest.raises(KitError):
        parse_kit("a = " + "[" * 50_000 + "]" * 50_000)


def test_byte_order_mark_and_windows_newlines(tmp_path: Path) -> None:
    path = tmp_path / "kit.toml"
    path.write_bytes(b"\xef\xbb\xbf" + GOOD.replace("\n", "\r\n").encode())
    assert read_kit(path).lure("deep-long").open_hooks == 2


@given(st.data())
def test_any_damage_is_read_or_refused(data: st.DataObject) -> None:
    """Cut, doubled or overwritten anywhere, the demo kit is read or refused, never a crash."""
    text = demo_kit_text()
    start = data.draw(st.integers(0, len(text) - 1))
    length = data.draw(st.integers(0, 40))
    put = data.draw(st.text(max_size=10) | st.sampled_from(['"', "[", "]]", "=", "nan", "\x00"]))
    try:
        kit = parse_kit(text[:start] + put + text[start + length :])
    except KitError as error:
        assert "\n" not in error.message.replace(put, "")
    else:
        assert kit.lures or kit.lines
