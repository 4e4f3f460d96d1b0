from __future__ import annotations

import math

import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.estimate import Estimate


def test_only_a_guess_is_a_guess() -> None:
    assert Estimate(5.0, 3.0, 8.0, "guess", "rule").is_guess
    assert not Estimate(5.0, 5.0, 5.0, "given", "your word").is_guess


@pytest.mark.parametrize("values", [(5.0, 6.0, 8.0), (9.0, 6.0, 8.0), (5.0, math.nan, 8.0)])
def test_a_value_outside_its_band_is_refused(values: tuple[float, float, float]) -> None:
    with pytest.raises(LakeDataError, match="within its band"):
        Estimate(*values, "guess", "rule")
