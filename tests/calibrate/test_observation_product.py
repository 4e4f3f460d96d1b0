"""Products of likelihoods, against plain multiplication."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.calibrate.likelihood import DIAMETER_WEIGHTS
from leadsman.calibrate.observation_product import ObservationProduct

SHAPE = (3, 4, 2)
LINES = ["thin", "thick", "thin", "thin"]


def likes(count: int) -> list[np.ndarray]:  # type: ignore[type-arg]
    rng = np.random.default_rng(3)
    return [rng.uniform(0.01, 2.0, (5, *SHAPE)).astype(np.float32) for _ in range(count)]


def plain(chosen: list[int], given: list[np.ndarray]) -> np.ndarray:  # type: ignore[type-arg]
    total = np.ones(SHAPE)
    for line in ("thin", "thick"):
        nodes = np.ones((5, *SHAPE))
        for i in chosen:
            if LINES[i] == line:
                nodes = nodes * given[i].astype(float)
        total = total * sum(w * node for w, node in zip(DIAMETER_WEIGHTS, nodes, strict=True))
    return total


def test_all() -> None:
    given = likes(4)
    product = ObservationProduct(LINES, SHAPE)
    assert product.all() == pytest.approx(np.ones(SHAPE))
    for i, like in enumerate(given):
        product.add(i, like)
        wanted = plain(list(range(i + 1)), given)
        assert product.all() / product.all().sum() == pytest.approx(wanted / wanted.sum(), rel=1e-5)


@pytest.mark.parametrize("left_out", range(4))
def test_with_and_without_keep_one_scale(left_out: int) -> None:
    given = likes(4)
    product = ObservationProduct(LINES, SHAPE)
    for i, like in enumerate(given):
        product.add(i, like)
    with_it, without = product.with_and_without(left_out, given[left_out])
    wanted_with = plain([0, 1, 2, 3], given)
    wanted_without = plain([i for i in range(4) if i != left_out], given)
    assert with_it / without == pytest.approx(wanted_with / wanted_without, rel=1e-5)


def test_hundreds_stay_in_range() -> None:
    product = ObservationProduct(["thin"] * 400, SHAPE)
    for i, like in enumerate(likes(400)):
        product.add(i, like)
    assert np.isfinite(product.all()).all() and product.all().max() > 0.0
