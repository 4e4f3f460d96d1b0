"""The compiled kriging against the plain one, and its behaviour in gaps."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.lake.kriging_kernel import _krige_many, krige_many
from leadsman.lake.kriging_pyramid import KrigingPyramid
from leadsman.lake.local_kriging import Variogram, krige


def test_compiled_and_textbook_systems_agree() -> None:
    """The bordered system in variogram form (local_kriging) against the covariance form."""
    rng = np.random.default_rng(4)
    x, y = rng.uniform(0.0, 60.0, (2, 24))
    z = rng.normal(5.0, 1.0, 24)
    v = Variogram(0.02, 0.01, 1.6)
    at_x, at_y = rng.uniform(5.0, 55.0, (2, 40))
    depth, se = krige(x, y, z, v, at_x, at_y)
    distance = np.hypot(at_x[:, None] - x, at_y[:, None] - y)
    index = np.argsort(distance, axis=1)[:, :24].astype(np.int64)
    for kernel in (krige_many, _krige_many):
        out = kernel(at_x, at_y, index, x, y, z, np.full(24, 0.02), 0.01, 1.6)
        assert out[:, 0] == pytest.approx(depth, abs=1e-5)
        assert np.sqrt(out[:, 1]) == pytest.approx(se, abs=1e-5)


def test_a_gap_is_seen_from_both_sides() -> None:
    """Two long tracks 100 m apart at 4 and 6 m: midway the depth is their mean."""
    along = np.arange(0.0, 400.0, 4.0)
    x = np.concatenate([along, along])
    y = np.concatenate([np.zeros(100), np.full(100, 100.0)])
    depth = np.concatenate([np.full(100, 4.0), np.full(100, 6.0)])
    rng = np.random.default_rng(0)
    pyramid = KrigingPyramid.build(x, y, depth + rng.normal(0.0, 0.05, 200), 5.0)
    found, _ = pyramid.predict(np.array([200.0, 200.0]), np.array([50.0, 2.0]))
    assert found[0] == pytest.approx(5.0, abs=0.1)
    assert found[1] == pytest.approx(4.0, abs=0.15)
