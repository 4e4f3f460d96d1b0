"""Changing a kit file by program keeps what a person wrote."""

from __future__ import annotations

import math
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import KitError
from leadsman.kitfile.read import parse_kit, read_kit
from leadsman.kitfile.template import demo_kit_text
from leadsman.kitfile.write import remove, set_fields


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "kit.toml"
    file.write_text(demo_kit_text(), "utf-8")
    return file


def test_one_field_changes_one_line(path: Path) -> None:
    before = path.read_text("utf-8").splitlines()
    kit = set_fields(path, "lines", "fluoro-12", {"diameter": "0.305 mm"})
    after = path.read_text("utf-8").splitlines()
    assert kit.line("fluoro-12").diameter_m == pytest.approx(3.05e-4)
    assert [b for a, b in zip(before, after, strict=True) if a != b] == ['diameter = "0.305 mm"']


def test_comments_stay_when_things_are_added_and_removed(path: Path) -> None:
    notes = [line for line in demo_kit_text().splitlines() if line.startswith("#")]
    set_fields(path, "lures", "my long one", {
        "body_length": "7 cm", "lip_length": "4 cm", "lip_width": "22 mm", "mass": "21 g",
        "open_hooks": 3,
    })  # fmt: skip
    kit = set_fields(path, "lures", "big-lip-25", {"rated_line_test": None, "dive_angle": "30 deg"})
    text = path.read_text("utf-8")
    assert all(note in text for note in notes)
    assert kit.lure("my long one").open_hooks == 3
    big = kit.lure("big-lip-25")
    assert big.dive_angle_rad == pytest.approx(math.pi / 6)
    assert big.rated is not None and big.rated.test.line_test_n is None
    kit = remove(path, "lures", "my long one")
    assert "my long one" not in [lure.name for lure in kit.lures]


def test_a_change_that_is_wrong_leaves_the_file(path: Path) -> None:
    before = path.read_bytes()
    for fields in ({"diameter": "0.3 in"}, {"diametre": "0.3 mm"}, {"test": "12 ft"}):
        with pytest.raises(KitError):
            set_fields(path, "lines", "fluoro-12", fields)
    with pytest.raises(KitError, match="Perhaps 'fluoro-12'"):
        remove(path, "lines", "fluoro12")
    with pytest.raises(KitError, match="no rod 'middle'"):
        remove(path, "rods", "middle")  # a combo still needs it
    with pytest.raises(KitError, match="Perhaps 'lures'"):
        set_fields(path, "lure", "a", {})
    assert path.read_bytes() == before
    assert list(path.parent.iterdir()) == [path]


def test_a_file_that_is_wrong_is_not_touched(path: Path) -> None:
    path.write_text('[lines.a]\nmaterial = "silk"\ntest = "12 lb"\n', "utf-8")
    before = path.read_bytes()
    with pytest.raises(KitError, match="is not one of"):
        set_fields(path, "lines", "b", {"material": "nylon", "test": "8 lb"})
    assert path.read_bytes() == before


def test_windows_newlines_stay(path: Path) -> None:
    path.write_bytes(demo_kit_text().replace("\n", "\r\n").encode())
    set_fields(path, "lines", "fluoro-12", {"diameter": "0.305 mm"})
    data = path.read_bytes()
    assert data.count(b"\n") == data.count(b"\r\n")
    assert read_kit(path).line("fluoro-12").diameter_m == pytest.approx(3.05e-4)


def test_into_an_empty_table(tmp_path: Path) -> None:
    file = tmp_path / "kit.toml"
    file.write_text('# mine\n[lines.a]\nmaterial = "nylon"\ntest = "12 lb"\n', "utf-8")
    kit = set_fields(file, "reels", "r", {
        "take_up_full": "26 in", "capacity": "110 yd", "capacity_diameter": "0.33 mm",
    })  # fmt: skip
    assert kit.reel("r").capacity_m == pytest.approx(100.584)


@given(st.floats(0.2, 0.45), st.text(st.characters(codec="utf-8", categories=["L", "N", "P"]), min_size=1, max_size=20))  # fmt: skip # noqa: E501
def test_any_name_is_written_so_that_it_is_read(millimetres: float, name: str) -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "kit.toml"
        file.write_text('[lines.a]\nmaterial = "nylon"\ntest = "12 lb"\n', "utf-8")
        fields = {"material": "nylon", "diameter": f"{millimetres:.6f} mm"}
        kit = set_fields(file, "lines", name, fields) if name.casefold() != "a" else None
        if kit is not None:
            assert parse_kit(file.read_text("utf-8")).lines == kit.lines
            assert kit.line(name).diameter_m == pytest.approx(millimetres * 1e-3, abs=1e-9)
