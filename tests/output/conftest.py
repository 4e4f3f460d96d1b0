"""Believable views to draw, and what every picture must keep."""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations

import numpy as np
import pytest
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.text import Text
from matplotlib.transforms import Bbox

from leadsman.display_units import US, DisplayUnits
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.output.picture import house_style
from leadsman.output.side_view import PathBand, SideView
from leadsman.output.side_view_of import side_view_of
from leadsman.output.style import MIN_TEXT_PX, Layout

Tidy = Callable[[Figure, Layout], list[str]]


def spiral_retrieve(
    cast_m: float, angle_deg: float, bottom: BottomProfile | None = None
) -> Retrieve:
    """Path of a lure on a straight weightless line, tip at the surface.

    The equiangular spiral r = R exp(-theta cot delta), own derivation, see
    docs/physics.md; over a bottom the lure lies on it with the closed-form load
    sin(delta - theta) / cos(delta).
    """
    delta = np.radians(angle_deg)
    theta = np.linspace(0.0, 0.97 * np.pi, 300)
    r = cast_m * np.exp(-theta / np.tan(delta))
    x, z = r * np.cos(theta), r * np.sin(theta)
    keep = x > 0.2
    theta, x, z = theta[keep], x[keep], z[keep]
    force = np.zeros_like(x)
    if bottom is not None:
        floor = bottom.depth_at(x)
        on = z > floor
        line_angle = np.arctan2(np.minimum(z, floor), x)
        load = np.maximum(np.sin(delta - line_angle) / np.cos(delta), 1e-3)
        force = np.where(on, load, 0.0)
        z = np.minimum(z, floor)
    ones = np.ones_like(x)
    return Retrieve(np.linspace(0.0, 40.0, x.size), x, z, np.hypot(x, z), ones, ones, force)


def band_of(retrieve: Retrieve) -> PathBand:
    """Bands of a tenth and a twentieth about a path."""
    order = np.argsort(retrieve.x_m)
    x = np.linspace(1.0, 0.98 * float(np.max(retrieve.x_m)), 80)
    z = np.interp(x, retrieve.x_m[order], retrieve.depth_m[order])
    return PathBand(x, 0.9 * z, 0.95 * z, 1.05 * z, 1.1 * z)


def edge_bottom() -> BottomProfile:
    """A sloping bottom with a grass edge, its depth known to half a foot."""
    x = np.linspace(0.0, 60.0, 61)
    depth = 4.0 + 1.2 * np.tanh((x - 25.0) / 10.0)
    top = depth - 0.9 * np.clip((22.0 - x) / 6.0, 0.0, 1.0)
    density = np.clip((24.0 - x) / 20.0, 0.0, 1.0)
    return BottomProfile(x, depth, np.full(61, 0.15), GrassLayer(x, top, density))


@pytest.fixture
def make_view() -> Callable[..., SideView]:
    """A function that makes side views of closed-form retrieves."""

    def make(
        angle_deg: float = 18.0,
        cast_m: float = 55.0,
        tip_m: float = 0.6,
        bottom: BottomProfile | None = None,
        units: DisplayUnits = US,
        headline: str = "Long thin lip ticks the edge for much of it; plan on 12.6 to 13.9 ft",
        **kwargs: object,
    ) -> SideView:
        free = spiral_retrieve(cast_m, angle_deg)
        path = spiral_retrieve(cast_m, angle_deg, bottom)
        deepest = free.max_depth_m
        return side_view_of(
            path,
            tip_m,
            headline,
            units=units,
            bottom=bottom,
            free=free,
            band=band_of(free),
            max_depth_band_m=(0.9 * deepest, 1.1 * deepest),
            **kwargs,  # type: ignore[arg-type]
        )

    return make


@pytest.fixture
def grass_edge() -> BottomProfile:
    """A bottom with an error and a grass edge."""
    return edge_bottom()


def _texts(figure: Figure) -> list[tuple[Text, Bbox]]:
    with house_style():
        return _drawn_texts(figure)


def _drawn_texts(figure: Figure) -> list[tuple[Text, Bbox]]:
    renderer = FigureCanvasAgg(figure).get_renderer()  # type: ignore[no-untyped-call]
    figure.canvas.draw()
    found = []
    for text in figure.findobj(Text):
        assert isinstance(text, Text)
        if text.get_visible() and text.get_text().strip() and _axis_shown(figure, text):
            found.append((text, text.get_window_extent(renderer)))
    return found


def _axis_shown(figure: Figure, text: Text) -> bool:
    """Tick labels of a frameless overlay, or beyond the ends of an axis, are not drawn."""
    for ax in figure.axes:
        for axis, limits in ((ax.xaxis, ax.get_xlim()), (ax.yaxis, ax.get_ylim())):
            for tick in [*axis.get_major_ticks(), *axis.get_minor_ticks()]:
                if text in (tick.label1, tick.label2):
                    inside = min(limits) <= tick.get_loc() <= max(limits)
                    own = tick.label1 is text
                    return ax.axison and inside and own and bool(text.get_visible())
            if text is axis.label or text is axis.get_offset_text():
                return ax.axison
    return True


@pytest.fixture
def untidy() -> Tidy:
    """A function that lists what is wrong with the words of a picture."""

    def check(figure: Figure, layout: Layout) -> list[str]:
        wrong = []
        width, height = figure.get_size_inches() * figure.dpi
        if abs(width - layout.width_px) > 0.5:
            wrong.append(f"picture is {width} px wide, not {layout.width_px}")
        texts = _texts(figure)
        for text, box in texts:
            size_px = text.get_fontsize() * 96.0 / 72.0
            if size_px < MIN_TEXT_PX:
                wrong.append(f"{text.get_text()!r} is set in {size_px:.1f} px")
            if box.x0 < -0.5 or box.y0 < -0.5 or box.x1 > width + 0.5 or box.y1 > height + 0.5:
                wrong.append(f"{text.get_text()!r} is cut off")
        for (one, a), (other, b) in combinations(texts, 2):
            across = min(a.x1, b.x1) - max(a.x0, b.x0)
            up = min(a.y1, b.y1) - max(a.y0, b.y0)
            if across > 1.0 and up > 3.0:  # boxes hold unused room above and below letters
                wrong.append(f"{one.get_text()!r} and {other.get_text()!r} overlap")
        return wrong

    return check
