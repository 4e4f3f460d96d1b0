"""Paths side by side: filled up without adding length or time."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import TechniqueError
from leadsman.hydro.path_batch import PathBatch
from leadsman.hydro.retrieve_result import Retrieve


def path(samples: int) -> Retrieve:
    x = np.linspace(10.0, 1.0, samples)
    ones = np.ones(samples)
    return Retrieve(10.0 - x, x, 0.2 * x, x, 2.0 * ones, ones, 0.1 * ones)


def test_short_paths_are_filled_with_their_last_sample() -> None:
    batch = PathBatch.of([path(4), path(7)])
    assert len(batch) == 2
    assert batch.x_m.shape == (2, 7)
    assert np.all(batch.x_m[0, 3:] == 1.0)
    assert np.all(batch.t_s[0, 3:] == 9.0)
    assert np.abs(np.diff(batch.x_m, axis=1)).sum(axis=1) == pytest.approx([9.0, 9.0])
    assert batch.max_depth_m == pytest.approx([2.0, 2.0])
    assert batch.load[0] == pytest.approx(np.full(7, 0.05))  # N over pull
    assert batch.solved.all()


def test_one_sample_becomes_a_path_of_no_length() -> None:
    assert PathBatch.of([path(1)]).x_m.shape == (1, 2)


def test_nothing_cannot_be_put_side_by_side() -> None:
    with pytest.raises(TechniqueError, match="no retrieve"):
        PathBatch.of([])
