"""Saving: the same bytes each time, whole or not at all, nothing leaking in or out."""

from __future__ import annotations

import hashlib
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from xml.etree import ElementTree

import matplotlib
import pytest

from leadsman.errors import InputError
from leadsman.output.picture import picture_bytes, save_picture
from leadsman.output.sheet import new_sheet
from leadsman.output.side_view import SideView, draw_side_view
from leadsman.output.style import PHONE

Make = Callable[..., SideView]

SCRIPT = """
import hashlib, sys
import numpy as np
from leadsman.output.picture import picture_bytes
from leadsman.output.side_view import SideView, draw_side_view
x = np.linspace(50.0, 0.5, 80)
view = SideView("A path", x, 3.0 * np.sin(np.pi * x / 50.0), np.zeros(80), 0.6)
for kind in ("svg", "png"):
    print(hashlib.sha256(picture_bytes(draw_side_view(view), kind)).hexdigest())
assert "matplotlib.pyplot" not in sys.modules
"""


def test_same_bytes_in_another_process() -> None:
    seen = set()
    for seed in ("1", "2"):
        env = {**os.environ, "PYTHONHASHSEED": seed, "TZ": "UTC" if seed == "1" else "Asia/Tokyo"}
        run = subprocess.run(
            [sys.executable, "-c", SCRIPT], capture_output=True, text=True, check=True, env=env
        )
        seen.add(run.stdout)
    assert len(seen) == 1
    assert len(seen.pop().split()) == 2


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_same_bytes_when_saved_again(make_view: Make, kind: str) -> None:
    figure = draw_side_view(make_view())
    first = picture_bytes(figure, kind)
    assert picture_bytes(figure, kind) == first
    assert picture_bytes(draw_side_view(make_view()), kind) == first


def test_settings_of_the_user_do_not_leak_in(make_view: Make) -> None:
    plain = hashlib.sha256(picture_bytes(draw_side_view(make_view()), "svg")).digest()
    with matplotlib.rc_context({"font.size": 30, "axes.grid": True, "lines.linewidth": 9}):
        mixed = hashlib.sha256(picture_bytes(draw_side_view(make_view()), "svg")).digest()
        assert matplotlib.rcParams["font.size"] == 30
    assert mixed == plain


def test_svg_is_well_formed_titled_dated_by_nobody(make_view: Make) -> None:
    data = picture_bytes(draw_side_view(make_view(headline='<b>"$5" & 3 < 4</b> lure')), "svg")
    root = ElementTree.fromstring(data)
    titles = [e.text for e in root.iter("{http://www.w3.org/2000/svg}title")]
    assert titles == ['<b>"$5" & 3 < 4</b> lure']
    assert b"dc:date" not in data
    ids = [e.get("id") for e in root.iter() if e.get("id")]
    assert len(ids) == len(set(ids))


def test_png_is_as_wide_as_stated(make_view: Make, tmp_path: Path) -> None:
    path = save_picture(draw_side_view(make_view()), tmp_path / "view.png", dpi=96.0)
    head = path.read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n"  # PNG specification, section 5.2
    assert int.from_bytes(head[16:20], "big") == 960


@pytest.mark.parametrize("name", ["view.pdf", "view", "view.jpeg", ".svg"])
def test_another_ending_is_refused(make_view: Make, tmp_path: Path, name: str) -> None:
    with pytest.raises(InputError, match=r"\.svg or \.png"):
        save_picture(draw_side_view(make_view()), tmp_path / name)
    assert list(tmp_path.iterdir()) == []


def test_a_missing_folder_is_said_and_nothing_is_left(make_view: Make, tmp_path: Path) -> None:
    with pytest.raises(InputError, match="cannot be written"):
        save_picture(draw_side_view(make_view()), tmp_path / "no" / "view.svg")
    target = tmp_path / "view.svg"
    target.mkdir()  # a folder stands where the file should go
    with pytest.raises(InputError, match="cannot be written"):
        save_picture(draw_side_view(make_view()), target)
    assert list(tmp_path.iterdir()) == [target]


def test_importing_the_room_does_not_wait_for_matplotlib() -> None:
    names = [
        "side_view",
        "side_view_of",
        "levers_picture",
        "levers_view_of",
        "map_view_of",
        "plan_card",
        "depth_table",
        "depth_table_picture",
        "map_picture",
        "picture",
        "style",
    ]
    lines = "\n".join(f"import leadsman.output.{name}" for name in names)
    code = f"import sys\n{lines}\nassert 'matplotlib' not in sys.modules"
    subprocess.run([sys.executable, "-c", code], check=True)


def test_the_check_of_words_finds_what_is_wrong(untidy: Callable[..., list[str]]) -> None:
    sheet = new_sheet(PHONE, "A headline", 100.0)
    assert untidy(sheet.figure, PHONE) == []
    sheet.write(20.0, 50.0, "first words", 12.0)
    sheet.write(60.0, 52.0, "second words", 12.0)
    sheet.write(350.0, 90.0, "over the rim", 12.0)
    sheet.write(20.0, 20.0, "tiny", 6.0)
    found = " / ".join(untidy(sheet.figure, PHONE))
    assert "'first words' and 'second words' overlap" in found
    assert "'over the rim' is cut off" in found
    assert "'tiny' is set in 8.0 px" in found
    assert len(found.split(" / ")) == 3
