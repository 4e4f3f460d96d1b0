"""Take the pictures of the pages that the docs show, from a real server and browser.

Needs chromium, and Pillow to make the files small: `python tools/make_screenshots.py [FOLDER]`.
"""

from __future__ import annotations

import io
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from playwright.sync_api import Page

OUT = Path(__file__).parents[1] / "docs/img/screens"
SIZES = {"laptop": (1280, 800), "phone": (360, 740)}
COLOURS = 160
"""Colours kept in a picture: flat areas and text need few [-]."""

OBSERVATIONS = """date,lure,kind,depth,line,cast,tip,speed,time,pull,casts,off_true,note
2026-06-21,long-lip-15,ticked,13 ft,fluoro-12,50 yd,,,,,3,,
2026-06-21,long-lip-15,did not reach,15 ft,fluoro-12,50 yd,,,,,2,,
2026-06-22,mid-lip-10,ticked,9 ft,fluoro-10,45 yd,,,,,2,,
2026-06-22,long-thin-lip-20,ticked,17 ft,fluoro-10,50 yd,,,,,2,,
"""


def depth(page: Page) -> None:
    """A lure that ticks a level bottom."""
    page.wait_for_selector("table")
    page.get_by_label("Lure", exact=True).select_option("mid-lip-12")
    page.get_by_role("slider", name="Bottom depth").fill("9")


def depth_slope(page: Page) -> None:
    """Grass on a slope, with wind."""
    page.wait_for_selector("table")
    page.get_by_label("Lure", exact=True).select_option("long-lip-17")
    page.get_by_role("radio", name="Slope").check(force=True)
    page.get_by_role("slider", name="Depth where it lands").fill("18")
    page.get_by_role("slider", name="Depth at the rod").fill("11")
    page.get_by_role("radio", name="Grass", exact=True).check(force=True)
    page.get_by_role("slider", name="Wind").fill("8")


def kit(page: Page) -> None:
    """Three lures, before and after."""
    page.get_by_role("heading", name="What was learned").wait_for()


SHOTS: tuple[tuple[str, str, str, Callable[[Page], None]], ...] = (
    ("depth", "depth", "home", depth),
    ("depth-dark", "depth", "dark", depth_slope),
    ("depth-sun", "depth", "sun", depth),
    ("kit", "kit", "home", kit),
)
"""Name, screen, theme and what is done before the picture is taken."""


@contextmanager
def server(folder: Path) -> Iterator[str]:
    """Run `leadsman serve` in a folder; gives its address."""
    process = subprocess.Popen(
        [sys.executable, "-m", "leadsman", "serve", "--no-browser", "--port", "0"],
        cwd=folder,
        stdout=subprocess.PIPE,
        text=True,
    )
    try:
        assert process.stdout is not None
        for line in process.stdout:
            if found := re.search(r"http://localhost:\d+/", line):
                yield found.group(0)
                return
        raise SystemExit("leadsman serve did not start")
    finally:
        process.terminate()
        process.wait(15)


def save(png: bytes, path: Path) -> None:
    """Write a picture with few colours.

    Parameters
    ----------
    png : bytes
        The picture as the browser took it [-].
    path : pathlib.Path
        Where it goes [-].
    """
    from PIL import Image

    picture = Image.open(io.BytesIO(png)).convert("RGB")
    small = picture.quantize(COLOURS, method=Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE)
    small.save(path, optimize=True)


def main(out: Path = OUT) -> None:
    """Take every picture.

    Parameters
    ----------
    out : pathlib.Path
        Folder of the pictures [-].
    """
    from playwright.sync_api import sync_playwright

    from leadsman.kitfile.template import write_new_kit

    out.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as playwright:
        folder = Path(scratch)
        write_new_kit(folder / "kit.toml")
        (folder / "observations.csv").write_text(OBSERVATIONS, encoding="utf-8")
        browser = playwright.chromium.launch(
            executable_path=shutil.which("chromium"), args=["--no-sandbox"]
        )
        with server(folder) as address:
            for name, screen, theme, prepare in SHOTS:
                for size, (width, height) in SIZES.items():
                    context = browser.new_context(
                        viewport={"width": width, "height": height},
                        device_scale_factor=1 if size == "laptop" else 1.5,
                    )
                    page = context.new_page()
                    page.add_init_script(
                        "localStorage['leadsman.settings'] = "
                        f"JSON.stringify({{theme: '{theme}', units: 'us'}})"
                    )
                    page.goto(f"{address}#/{screen}")
                    page.wait_for_selector("h1")
                    prepare(page)
                    page.wait_for_timeout(1500)
                    page.evaluate(
                        "scrollTo(0, 0); document.querySelector('.hands')?.scrollTo(0, 0)"
                    )
                    save(page.screenshot(), out / f"{name}-{size}.png")
                    context.close()
        browser.close()


if __name__ == "__main__":
    main(*(Path(word) for word in sys.argv[1:2]))
