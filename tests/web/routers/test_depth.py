"""The API gives what the use case gives."""

from __future__ import annotations

import httpx
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leadsman.usecases.depth import find_depth
from leadsman.usecases.questions import (
    BottomQuestion,
    DepthQuestion,
    SetupQuestion,
    TechniqueQuestion,
)

from ..conftest import Served

ASKED = {
    "lure": "long-lip-15",
    "line": "fluoro-12",
    "cast_m": 45.0,
    "tip": 0.6,
    "bottom": [{"x_m": 0, "depth_m": 3.0}],
    "draws": 32,
}


def test_the_same_numbers_as_without_a_server(client: httpx.Client, served: Served) -> None:
    got = client.post("/api/depth", json=ASKED).json()
    own = find_depth(
        DepthQuestion(
            setup=SetupQuestion(
                kit=served.folder / "kit.toml", lure="long-lip-15", line="fluoro-12"
            ),
            technique=TechniqueQuestion(cast_m=45.0, tip=0.6),
            bottom=BottomQuestion(depths="3 m"),
        ),
        draws=32,
    )
    answer, view = got["answer"], got["view"]
    assert answer["headline"] == own.headline
    assert answer["zone_m"] == pytest.approx(own.zone_m, abs=1e-9)
    free = answer["max_depth_bands_m"]
    assert (free["low_90"], free["high_90"]) == pytest.approx(
        (own.band.max_depth_m.low_90, own.band.max_depth_m.high_90)
    )
    assert len(answer["path"]) == own.path.x_m.size
    assert view["free"]["depth_m"] == pytest.approx(own.free.depth_m.tolist())
    assert got["draws"] == 32


def test_the_view_holds_together(client: httpx.Client) -> None:
    got = client.post("/api/depth", json={**ASKED, "grass": {"top_depth_m": 2.4}}).json()
    view, answer = got["view"], got["answer"]
    band = view["band"]
    for shallow, deep in (("shallow_90_m", "shallow_50_m"), ("deep_50_m", "deep_90_m")):
        assert all(a <= b + 1e-9 for a, b in zip(band[shallow], band[deep], strict=True))
    assert sum(zone["length_m"] for zone in view["zones"]) <= answer["contact_m"] + 1.0
    assert view["grass"]["density"] and view["bottom"]["depth_m"]
    assert max(point["depth_m"] for point in answer["path"]) <= 3.0 + 0.01


def test_units_change_words_and_not_numbers(client: httpx.Client) -> None:
    us, metric = (
        client.post("/api/depth", json={**ASKED, "units": units}).json()["answer"]
        for units in ("us", "metric")
    )
    assert " ft" in us["headline"] and " ft" not in metric["headline"]
    assert us["max_depth_m"] == metric["max_depth_m"]


def test_wind_from_ahead_shortens_the_cast(client: httpx.Client) -> None:
    casts = [
        client.post(
            "/api/depth", json={**ASKED, "wind": {"speed_m_s": 6.0, "from_deg": deg}}
        ).json()["answer"]["cast_m"]
        for deg in (0.0, 180.0)
    ]
    assert casts[0] < 45.0 < casts[1]


def test_levers_have_signs(client: httpx.Client) -> None:
    got = client.post("/api/levers", json=ASKED).json()
    by_step = {(lever["control"], lever["step"]): lever for lever in got["levers"]}
    longer = next(v for (c, s), v in by_step.items() if c == "cast" and "longer" in s)
    higher = next(v for (c, s), v in by_step.items() if c == "tip" and "higher" in s)
    assert longer["depth_change_m"] > 0.0 > higher["depth_change_m"]


@settings(
    max_examples=25,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    derandomize=True,
)
@given(
    st.fixed_dictionaries(
        {
            "lure": st.sampled_from(["waking-round", "square-lip-4", "big-lip-25", "suspending-8"]),
            "line": st.sampled_from(["fluoro-8", "nylon-17", "braid-30"]),
            "cast_m": st.floats(5.0, 120.0),
            "tip": st.one_of(st.floats(-3.0, 6.0), st.sampled_from(["under", "high"])),
            "speed_m_s": st.floats(0.3, 3.0),
            "boat_m_s": st.floats(-1.0, 1.0),
            "temperature_c": st.floats(1.0, 35.0),
            "draws": st.just(32),
            "wind": st.one_of(
                st.none(),
                st.fixed_dictionaries(
                    {"speed_m_s": st.floats(0.0, 20.0), "from_deg": st.floats(0.0, 360.0)}
                ),
            ),
            "bottom": st.lists(
                st.fixed_dictionaries(
                    {"x_m": st.floats(0.0, 200.0), "depth_m": st.floats(0.1, 30.0)}
                ),
                max_size=4,
                unique_by=lambda point: round(point["x_m"], 3),
            ).map(lambda points: sorted(points, key=lambda point: point["x_m"])),
        }
    )
)
def test_every_corner_of_the_controls_is_answered(
    client: httpx.Client, asked: dict[str, object]
) -> None:
    answer = client.post("/api/depth", json=asked)
    assert answer.status_code == 200, answer.text
