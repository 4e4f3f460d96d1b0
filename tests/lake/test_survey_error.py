"""Survey error against IHO S-44 Edition 6."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.lake.survey_error import survey_se_m, total_vertical_uncertainty_m


def test_order_1a() -> None:
    """IHO S-44 Edition 6, Order 1a: a = 0.5 m, b = 0.013, figures worked out by hand."""
    found = total_vertical_uncertainty_m(np.array([2.0, 5.0, 10.0, 20.0, 30.0]))
    assert found == pytest.approx([0.5007, 0.5042, 0.5166, 0.5636, 0.6341], abs=5e-5)


def test_standard_error_is_the_95_percent_band_over_196() -> None:
    assert survey_se_m(10.0) * 1.96 == pytest.approx(0.5166, rel=1e-3)
