"""Make the test vectors of the advice core.

    python tests/vectors/make_advice_vectors.py

Two kinds, told apart by "expected_from" in each file:

* "closed form": expected values from scipy and from formulas written here, not
  from the program. They are evidence that an implementation is right.
* "reference implementation": whole days answered by the program itself. They
  are no evidence of being right; they hold a second implementation to the
  first one, answer by answer.
"""

from __future__ import annotations

import json
import math
from pathlib import Path
from typing import Any

import numpy as np
from scipy import integrate, optimize, special, stats

FOLDER = Path(__file__).parent / "advice"


def write(name: str, expected_from: str, why: str, cases: list[dict[str, Any]]) -> None:
    """Write one file of cases."""
    data = {"expected_from": expected_from, "why": why, "cases": cases}
    indent = 1 if expected_from == "closed form" else None
    (FOLDER / f"{name}.json").write_text(json.dumps(data, indent=indent) + "\n")


def gamma_of_log_moments(mean: float, variance: float) -> tuple[float, float]:
    """Shape and effort of the Gamma whose log has these moments, by root finding."""
    shape = optimize.brentq(
        lambda s: float(special.polygamma(1, math.exp(s))) - variance, -12.0, 12.0, xtol=1e-14
    )
    a = math.exp(shape)
    return a, math.exp(float(special.digamma(a)) - mean)


def polygamma() -> None:
    """Special functions."""
    cases = [
        {
            "x": x,
            "digamma": float(special.digamma(x)),
            "trigamma": float(special.polygamma(1, x)),
        }
        for x in (0.01, 0.1, 0.35, 0.65, 1.0, 1.5, 2.0, 3.7, 7.999, 8.0, 25.0, 1000.0)
    ]
    write("polygamma", "closed form", "digamma and trigamma by scipy.special", cases)


def single_rate() -> None:
    """One effect: the textbook Gamma-Poisson posterior after each block."""
    cases = []
    for log_rate, sd, blocks in (
        (math.log(0.004), 1.0, [(0, 120.0), (1, 40.0), (3, 220.0)]),
        (math.log(0.004), 0.4, [(0, 500.0), (0, 500.0)]),
        (math.log(0.02), 2.0, [(5, 100.0), (0, 60.0), (2, 10.0)]),
    ):
        shape, effort = gamma_of_log_moments(log_rate, sd * sd)
        after = []
        for bites, zone_m in blocks:
            shape, effort = shape + bites, effort + zone_m
            after.append({"mean_per_m": shape / effort, "sd_per_m": math.sqrt(shape) / effort})
        cases.append(
            {
                "log_rate": log_rate,
                "sd": sd,
                "blocks": [{"bites": b, "zone_m": z} for b, z in blocks],
                "after": after,
            }
        )
    write("single_rate", "closed form", "Gamma(a, b) with y bites in e m is Gamma(a+y, b+e)", cases)


def shared_rates() -> None:
    """Several effects: one block, linear Bayes by explicit matrices."""
    effects = ["all", "sound=a", "sound=b", "place=p"]
    prior = np.diag([0.5, 0.4, 0.4, 0.8]) ** 2
    log_rate = math.log(0.005)
    rows = {"a": np.array([1.0, 1.0, 0.0, 1.0]), "b": np.array([1.0, 0.0, 1.0, 1.0])}
    cases = []
    for bites, zone_m in ((0, 300.0), (1, 50.0), (6, 400.0)):
        x = rows["a"]
        f, q = log_rate, float(x @ prior @ x)
        shape, effort = gamma_of_log_moments(f, q)
        f_after = float(special.digamma(shape + bites)) - math.log(effort + zone_m)
        q_after = float(special.polygamma(1, shape + bites))
        gain = prior @ x
        mean = gain * (f_after - f) / q
        cov = prior - np.outer(gain, gain) * (1.0 - q_after / q) / q
        d = rows["a"] - rows["b"]
        cases.append(
            {
                "effects": effects,
                "factors": [
                    {"name": "all", "sd": 0.5, "memory_h": None, "band_length": 0.0},
                    {"name": "sound", "sd": 0.4, "memory_h": None, "band_length": 0.0},
                    {"name": "place", "sd": 0.8, "memory_h": None, "band_length": 0.0},
                ],
                "log_rate": log_rate,
                "bites": bites,
                "zone_m": zone_m,
                "log_mean": {s: log_rate + float(r @ mean) for s, r in rows.items()},
                "log_variance": {s: float(r @ cov @ r) for s, r in rows.items()},
                "chance_a_better": float(
                    stats.norm.cdf(float(d @ mean) / math.sqrt(float(d @ cov @ d)))
                ),
            }
        )
    why = "West, Harrison & Migon 1985: conjugate step in the cell, linear Bayes for the effects"
    write("shared_rates", "closed form", why, cases)


def counts() -> None:
    """Predicted counts: the negative binomial law."""
    cases = [
        {
            "shape": a,
            "effort_m": b,
            "zone_m": e,
            "chances": stats.nbinom.pmf(range(8), a, b / (b + e)).tolist(),
        }
        for a, b, e in ((0.6, 150.0, 100.0), (3.0, 800.0, 400.0), (18.0, 4000.0, 250.0))
    ]
    write("counts", "closed form", "Poisson with a Gamma rate is negative binomial", cases)


def trials() -> None:
    """Try, then keep or leave: the sum over counts written out."""
    cases = []
    for a, b, zone_per_h, trial_h, rest_h, otherwise in (
        (0.6, 150.0, 1000.0, 0.25, 3.0, 4.0),
        (3.0, 800.0, 1000.0, 0.25, 3.0, 6.0),
        (18.0, 4000.0, 500.0, 0.4, 1.0, 1.0),
        (2.0, 900.0, 1000.0, 0.25, 0.0, 0.0),
    ):
        zone = zone_per_h * trial_h
        y = np.arange(2000)
        p = stats.nbinom.pmf(y, a, b / (b + zone))
        keep = (a + y) / (b + zone) * zone_per_h * rest_h
        value = float((p * (y + np.maximum(keep, otherwise))).sum())
        cases.append(
            {
                "shape": a,
                "effort_m": b,
                "zone_m_per_h": zone_per_h,
                "trial_h": trial_h,
                "rest_h": rest_h,
                "otherwise": otherwise,
                "value": value,
                "least_bites": int(np.argmax(keep >= otherwise)),
            }
        )
    write("trials", "closed form", "expectation summed over 2000 counts with scipy", cases)


def stops() -> None:
    """Score of a stop: Bayes factors by quadrature."""
    cases = []
    for at, total, share, least in (
        ([10.0, 20.0, 35.0, 40.0, 55.0, 61.0, 70.0], 110.0, 0.05, 6),
        ([1.0, 2.0, 4.0, 6.0], 9.0, 0.1, 3),
    ):

        def marginal(exposure: float, n: int, late: int, share: float = share) -> float:
            return integrate.quad(
                lambda lam: math.exp((n - 1) * math.log(lam) - lam * exposure) * share**late,
                0.0,
                np.inf,
                epsabs=0.0,
                epsrel=1e-12,
            )[0]

        n = len(at)
        steady = marginal(total, n, 0)
        score = sum(
            marginal(at[j - 1] + share * (total - at[j - 1]), n, n - j) / steady
            for j in range(least, n + 1)
        )
        cases.append(
            {
                "bites_at_m": at,
                "zone_m": total,
                "rest_share": share,
                "least_bites": least,
                "weight": 1.0,
                "tire_weight": 0.0,
                "score": score,
            }
        )
    write("stops", "closed form", "rate integrated out numerically with scipy.integrate", cases)


def days() -> None:
    """Whole days answered by the program, for a second implementation."""
    from leadsman.belief.levels import Cell
    from leadsman.belief.outlook_prior import rate_prior
    from leadsman.waterlog import advice_json as codec
    from leadsman.waterlog.advice import USUAL, Option, advise
    from leadsman.waterlog.change import USUAL_CHANGE
    from leadsman.waterlog.reading import USUAL_CAUSES, Block, begin, observe

    weights = {
        "depth": {str(d): w for d, w in ((3, 0.3), (4, 1.0), (5, 0.5))},
        "sound": {"rattling": 1.0, "silent": 0.75},
        "place": {"north": 1.0, "bar": 0.6},
    }
    core = codec.Core(rate_prior(4.0, 1000.0, weights), USUAL, USUAL_CHANGE, USUAL_CAUSES)
    cells = [
        Cell(place, depth, "edge", sound, "natural")
        for place in ("north", "bar")
        for depth in (3, 4, 5)
        for sound in ("rattling", "silent")
    ]
    rng = np.random.default_rng(2024)
    cases = []
    for kind, dies_after, rate_per_h in (
        ("steady", 999, 6.0),
        ("dies", 16, 9.0),
        ("blank", 0, 0.0),
    ):
        reading = begin(core.prior, cells)
        here, told, caught, t_h = cells[2], [], 0, 0.0
        steps: list[dict[str, Any]] = []
        for _ in range(45):
            t_h = round(t_h + 0.1, 6)
            live = caught < dies_after or here.sound == "silent"
            n = int(rng.poisson(0.1 * rate_per_h)) if live else 0
            caught += n
            block = Block(t_h, here, 100.0, n)
            reading = observe(reading, block, core.change, core.causes)
            options = tuple(
                Option(
                    f"{c.place}/{c.depth}/{c.sound}",
                    c,
                    1000.0 if c.depth != 3 else 600.0,
                    12.0 * (c.place != here.place)
                    + 0.5 * (c.depth != here.depth)
                    + 2.0 * (c.sound != here.sound),
                )
                for c in cells
            )
            now = next(o for o in options if o.cell == here)
            answer = advise(reading, now, options, 8.0 - t_h, tuple(told), core.advice, core.change)
            steps.append(
                {
                    "block": codec.block_to_json(block),
                    "change_min": [o.change_min for o in options],
                    "hours_left": 8.0 - t_h,
                    "told_at_h": list(told),
                    "answer": codec.advice_to_json(answer),
                }
            )
            if answer.verdict == "change":
                told.append(t_h)
                here = answer.best.option.cell
        cases.append(
            {
                "kind": kind,
                "core": codec.core_to_json(core),
                "options": [codec.option_to_json(o) for o in options],
                "steps": steps,
            }
        )
    write("days", "reference implementation", "whole days, to hold a second implementation", cases)


def main() -> None:
    """Make all files."""
    FOLDER.mkdir(exist_ok=True)
    for make in (polygamma, single_rate, shared_rates, counts, trials, stops, days):
        make()


if __name__ == "__main__":
    main()
