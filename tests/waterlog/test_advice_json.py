"""The advice core against its test vectors: closed forms, and whole days for parity."""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import pytest

from leadsman.belief.gamma_poisson import GammaRate, digamma, trigamma
from leadsman.belief.levels import Cell
from leadsman.belief.log_rates import Factor, RateBelief, RatePrior
from leadsman.errors import LogError
from leadsman.waterlog import advice_json as codec
from leadsman.waterlog.advice import Option, advise, trial_value
from leadsman.waterlog.change import ChangeSettings, Stint, stop_score
from leadsman.waterlog.reading import begin, observe

FOLDER = Path(__file__).parents[1] / "vectors" / "advice"
A = Cell("p", 3, "edge", "a", "natural")
B = Cell("p", 3, "edge", "b", "natural")


def cases(name: str, expected_from: str = "closed form") -> list[dict[str, Any]]:
    data = json.loads((FOLDER / f"{name}.json").read_text())
    assert data["expected_from"] == expected_from
    return list(data["cases"])


@pytest.mark.parametrize("case", cases("polygamma"))
def test_special_functions(case: dict[str, Any]) -> None:
    assert digamma(case["x"]) == pytest.approx(case["digamma"], rel=1e-12, abs=1e-13)
    assert trigamma(case["x"]) == pytest.approx(case["trigamma"], rel=1e-11)


@pytest.mark.parametrize("case", cases("single_rate"))
def test_single_rate(case: dict[str, Any]) -> None:
    belief = RateBelief.start(RatePrior(case["log_rate"], (Factor("all", case["sd"]),)), [A])
    for block, after in zip(case["blocks"], case["after"], strict=True):
        belief = belief.seen(A, block["bites"], block["zone_m"])
        rate = belief.rate(A)
        assert rate.mean_per_m == pytest.approx(after["mean_per_m"], rel=1e-9)
        assert math.sqrt(rate.variance_per_m2) == pytest.approx(after["sd_per_m"], rel=1e-9)


@pytest.mark.parametrize("case", cases("shared_rates"))
def test_shared_rates(case: dict[str, Any]) -> None:
    factors = tuple(Factor(f["name"], f["sd"]) for f in case["factors"])
    belief = RateBelief.start(RatePrior(case["log_rate"], factors), [A, B])
    belief = belief.seen(A, case["bites"], case["zone_m"])
    for cell in (A, B):
        mean, variance = belief.log_moments(cell)
        assert mean == pytest.approx(case["log_mean"][cell.sound], rel=1e-9)
        assert variance == pytest.approx(case["log_variance"][cell.sound], rel=1e-9)
    assert belief.chance_better(A, B) == pytest.approx(case["chance_a_better"], rel=1e-9)


@pytest.mark.parametrize("case", cases("counts"))
def test_counts(case: dict[str, Any]) -> None:
    got = GammaRate(case["shape"], case["effort_m"]).count_chances(case["zone_m"], 7)
    assert got == pytest.approx(case["chances"], rel=1e-10)


@pytest.mark.parametrize("case", cases("trials"))
def test_trials(case: dict[str, Any]) -> None:
    rate = GammaRate(case["shape"], case["effort_m"])
    value, least = trial_value(
        rate, case["zone_m_per_h"], case["trial_h"], case["rest_h"], case["otherwise"]
    )
    assert value == pytest.approx(case["value"], rel=1e-8)
    assert least == case["least_bites"]


@pytest.mark.parametrize("case", cases("stops"))
def test_stops(case: dict[str, Any]) -> None:
    names = ("rest_share", "least_bites", "weight", "tire_weight")
    settings = ChangeSettings(**{name: case[name] for name in names})
    stint = Stint(case["zone_m"], tuple(case["bites_at_m"]))
    assert stop_score(stint, settings) == pytest.approx(case["score"], rel=1e-8)


@pytest.mark.parametrize("case", cases("days", "reference implementation"))
def test_whole_days_are_answered_as_the_vectors_say(case: dict[str, Any]) -> None:
    # Not evidence of being right: it keeps this implementation and the one in the page together.
    core = codec.core_from_json(case["core"])
    assert codec.core_to_json(core) == case["core"]
    options = [codec.option_from_json(o) for o in case["options"]]
    reading = begin(core.prior, [o.cell for o in options])
    for step in case["steps"]:
        block = codec.block_from_json(step["block"])
        assert codec.block_to_json(block) == step["block"]
        reading = observe(reading, block, core.change, core.causes)
        offered = tuple(
            Option(o.name, o.cell, o.zone_m_per_h, minutes)
            for o, minutes in zip(options, step["change_min"], strict=True)
        )
        here = next(o for o in offered if o.cell == block.cell)
        told = tuple(step["told_at_h"])
        answer = advise(reading, here, offered, step["hours_left"], told, core.advice, core.change)
        got = codec.advice_to_json(answer)
        wanted = step["answer"]
        assert got["best"]["option"] == wanted["best"]["option"]
        assert got["verdict"] == wanted["verdict"] and got["status"] == wanted["status"]
        for g, w in zip(got["ranked"], wanted["ranked"], strict=True):
            assert g["option"] == w["option"] and g["changes"] == w["changes"]
            assert g["least_bites"] == w["least_bites"]
            for name in ("gain", "bites_per_h", "chance_better"):
                assert g[name] == pytest.approx(w[name], rel=1e-6, abs=1e-6)


def test_a_wrong_start_is_refused() -> None:
    with pytest.raises(LogError, match="no start of a day"):
        codec.core_from_json({"prior": {}})
