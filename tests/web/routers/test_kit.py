"""Tackle, observations and what they taught, over the API."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from ..conftest import Served, serving


@pytest.fixture
def own(tmp_path: Path) -> Iterator[tuple[httpx.Client, Served]]:
    """A server whose kit the test may change."""
    with (
        serving(tmp_path) as found,
        httpx.Client(base_url=found.url, timeout=120.0, trust_env=False) as client,
    ):
        yield client, found


def test_the_kit_is_told_with_its_numbers(client: httpx.Client) -> None:
    kit = client.get("/api/kit").json()
    assert kit["own_file"] == "kit.toml" and kit["units"] == "us"
    lure = next(item for item in kit["lures"] if item["name"] == "long-lip-15")
    assert lure["rated_depth_m"] == pytest.approx([15 * 0.3048, 15 * 0.3048])
    line = next(item for item in kit["lines"] if item["name"] == "fluoro-12")
    assert line["test_n"] == pytest.approx(12 * 4.4482216152605)
    assert {combo["line"] for combo in kit["combos"]} <= {item["name"] for item in kit["lines"]}


def test_a_kit_that_is_there_is_not_written_over(own: tuple[httpx.Client, Served]) -> None:
    client, found = own
    before = (found.folder / "kit.toml").read_bytes()
    answer = client.post("/api/kit/start", json={})
    assert answer.status_code == 422 and "already" in answer.json()["problem"]
    assert (found.folder / "kit.toml").read_bytes() == before


def test_a_kit_is_started_where_there_is_none(own: tuple[httpx.Client, Served]) -> None:
    client, found = own
    (found.folder / "kit.toml").unlink()
    answer = client.post("/api/kit/start", json={})
    assert answer.status_code == 200 and answer.json()["own_file"] == "kit.toml"
    assert (found.folder / "kit.toml").is_file()


def test_a_tick_is_noted_and_teaches(own: tuple[httpx.Client, Served]) -> None:
    client, found = own
    noted = client.post(
        "/api/observations",
        json={
            "lure": "long-lip-15", "kind": "ticked", "depth": "13 ft", "line": "fluoro-12",
            "cast": "50 yd", "note": "a, \"quoted\"\nnote",
        },
    )  # fmt: skip
    assert noted.status_code == 200, noted.text
    assert noted.json()["file"] == "observations.csv"
    assert "13 ft" in (found.folder / "observations.csv").read_text("utf-8")
    lines = client.post("/api/tune", json={}).text.splitlines()
    answer = json.loads(lines[-1])["answer"]
    lure = answer["lures"][0]
    assert lure["lure"] == "long-lip-15"
    before = lure["before"]["high_m"] - lure["before"]["low_m"]
    after = lure["after"]["high_m"] - lure["after"]["low_m"]
    assert after < before and lure["taught"][0]["gain_m"] > 0.0
    assert any("step" in json.loads(line) for line in lines[:-1])


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"depth": "13"}, "depth"),
        ({"depth": "13 lb"}, "depth"),
        ({"cast": ""}, "cast"),
        ({"lure": "no-such"}, None),
        ({"date": "yesterday"}, "date"),
    ],
    ids=str,
)
def test_a_wrong_observation_writes_nothing(
    own: tuple[httpx.Client, Served], change: dict[str, str], where: str | None
) -> None:
    client, found = own
    good = {"lure": "long-lip-15", "kind": "ticked", "depth": "13 ft", "line": "fluoro-12",
            "cast": "50 yd"}  # fmt: skip
    answer = client.post("/api/observations", json={**good, **change})
    assert answer.status_code == 422
    if where is not None:
        assert where in (answer.json()["where"] or "")
    assert not (found.folder / "observations.csv").exists()
