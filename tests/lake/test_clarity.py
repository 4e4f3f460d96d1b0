from __future__ import annotations

import math

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.clarity import attenuation_per_m, light_range, light_share


def test_light_falls_by_the_beer_lambert_law() -> None:
    # exp(-K z), closed form: half as deep again is the power 1.5
    one, more = light_share(np.array([2.0, 3.0]), 2.0)
    assert more == pytest.approx(one**1.5)
    assert light_share(0.0, 2.0) == 1.0


def test_one_percent_lies_at_2_7_times_the_classic_secchi_depth() -> None:
    # ln(100) / 1.7 = 2.709, closed form
    assert float(light_share(2.709 * 3.0, 3.0)) == pytest.approx(0.01, rel=1e-3)


def test_the_range_spans_the_water_types() -> None:
    dark, middle, bright = light_range(2.0, 2.0)
    assert (dark, middle, bright) == pytest.approx((math.exp(-2.8), math.exp(-1.7), math.exp(-1.1)))


@pytest.mark.parametrize("secchi_m", [0.0, -1.0, 100.0, float("nan")])
def test_no_lake_is_so_clear_or_dark(secchi_m: float) -> None:
    with pytest.raises(LakeDataError, match="clarity"):
        attenuation_per_m(secchi_m)
