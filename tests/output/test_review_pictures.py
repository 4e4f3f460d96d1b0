"""The pictures of the review: everything is on them, and nothing runs over."""

from __future__ import annotations

from pathlib import Path

import pytest

from leadsman.belief.levels import LADDER
from leadsman.output.picture import save_picture
from leadsman.output.review_pictures import draw_day, draw_rates
from leadsman.output.style import LAPTOP, PHONE, Layout
from leadsman.waterlog.effort import Fishing, day_effort
from leadsman.waterlog.events import Bite, Body, Event, Fish, Place, SetupStart, TripStop
from leadsman.waterlog.review import Review, review
from leadsman.waterlog.timeline import timeline

T0 = 1.7e9


def physics(setup: SetupStart, place: Place) -> Fishing:
    return Fishing(20.0, 30.0, {"deep": 4.6, "middle": 3.7}.get(setup.setup, 2.6))


def a_day() -> Review:
    steps: list[tuple[float, Body]] = [(0, Place("north edge")), (0, SetupStart("middle"))]
    steps += [(t, Bite()) for t in (22, 41)]
    steps += [(60, SetupStart("deep", "rattling"))]
    steps += [(64 + 6 * n, Fish(0.4) if n % 3 == 0 else Bite()) for n in range(16)]
    steps += [(240, SetupStart("deep", "silent")), (251, Bite()), (262, Fish(0.38))]
    steps += [(300, Place("long flat behind the island", "flat")), (330, SetupStart("shallow"))]
    steps += [(400, Bite()), (480, TripStop())]
    line = timeline(
        [
            Event(f"phone-{n:06d}", "t", "phone", n, T0 + 60.0 * t, body)
            for n, (t, body) in enumerate(steps)
        ]
    )
    return review(line, day_effort(line, physics, LADDER, T0))


@pytest.mark.parametrize("layout", [LAPTOP, PHONE])
def test_the_day_shows_every_bite_and_stop(layout: Layout, tmp_path: Path) -> None:
    day = a_day()
    figure = draw_day(day, LADDER, "21 bites in 8.0 h; best at 14 to 16 ft", layout=layout)
    ax = next(a for a in figure.axes if a.get_label() == "day")
    marks = [line for line in ax.lines if line.get_marker() == "o"]
    assert sum(len(line.get_xdata()) for line in marks) == day.bites
    assert len(day.stops) == 1
    low, high = ax.get_ylim()
    assert low > high == 0.0  # depth runs down
    assert save_picture(figure, tmp_path / "day.png").stat().st_size > 5000


@pytest.mark.parametrize("layout", [LAPTOP, PHONE])
def test_the_rates_keep_inside_of_the_sheet(layout: Layout, tmp_path: Path) -> None:
    figure = draw_rates(a_day(), "Rattling at 14 to 16 ft did it", layout=layout)
    save_picture(figure, tmp_path / "rates.png")
    figure.canvas.draw()
    width, height = figure.bbox.width, figure.bbox.height
    for text in figure.texts:
        box = text.get_window_extent()
        assert box.x0 >= -1.0 and box.x1 <= width + 1.0
        assert box.y0 >= -1.0 and box.y1 <= height + 1.0
    words = " ".join(text.get_text() for text in figure.texts)
    assert "rattling" in words and "silent" in words and "Depth" in words


def test_one_way_only_is_said() -> None:
    line = timeline(
        [
            Event("phone-000001", "t", "phone", 1, T0, Place("p")),
            Event("phone-000002", "t", "phone", 2, T0, SetupStart("deep")),
            Event("phone-000003", "t", "phone", 3, T0 + 3600.0, TripStop()),
        ]
    )
    figure = draw_rates(review(line, day_effort(line, physics, LADDER, T0)), "Nothing bit")
    assert any("Only one way" in text.get_text() for text in figure.texts)
