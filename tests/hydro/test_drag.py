"""Drag coefficients against the published fits, worked by hand outside the project."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import QuantityError
from leadsman.hydro.drag import (
    LOG2_RE_MAX,
    LOG2_RE_MIN,
    NORMAL_FIT_LOG_SD,
    TABLE_SIZE,
    TANGENTIAL_PRIOR,
    VIBRATION_RISE_HIGH,
    VIBRATION_RISE_LOW,
    DragLaw,
    interpolate_normal,
    normal_drag_cheng,
    normal_drag_white,
)

RE = np.array([50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0])


def test_cheng_fit_has_its_published_values() -> None:
    # Cheng 2013, J. Hydraul. Eng. 139:602, read only where cited.
    expected = [1.535, 1.329, 1.229, 1.114, 0.984, 0.910]
    np.testing.assert_allclose(normal_drag_cheng(RE), expected, atol=6e-4)


def test_white_fit_has_its_published_values() -> None:
    # White, Viscous Fluid Flow, from memory.
    expected = [1.737, 1.464, 1.292, 1.159, 1.100, 1.063]
    np.testing.assert_allclose(normal_drag_white(RE), expected, atol=6e-4)


def test_the_stated_spread_is_the_typical_difference_of_the_two_fits() -> None:
    re = np.geomspace(50.0, 2000.0, 200)
    apart = np.abs(np.log(normal_drag_white(re) / normal_drag_cheng(re)))
    assert np.mean(apart) == pytest.approx(NORMAL_FIT_LOG_SD, abs=0.025)
    assert np.max(apart) < 0.17


@pytest.mark.parametrize("factor", [1.0, 1.3])
def test_table_reads_within_1e_4_of_the_formula(factor: float) -> None:
    law = DragLaw(normal_factor=factor)
    table = law.normal_table()
    assert table.shape == (TABLE_SIZE,)
    re = 2.0 ** np.linspace(LOG2_RE_MIN, LOG2_RE_MAX, 5003)
    read = np.array([interpolate_normal(table, float(r)) for r in re])
    assert np.max(np.abs(read / (factor * normal_drag_cheng(re)) - 1.0)) < 1e-4


def test_table_is_held_at_its_ends() -> None:
    table = DragLaw().normal_table()
    assert interpolate_normal(table, 0.0) == table[0]
    assert interpolate_normal(table, 1e9) == table[-1]


def test_constant_law_is_constant_and_takes_the_factor() -> None:
    law = DragLaw(normal_constant=1.2, normal_factor=1.15)
    np.testing.assert_allclose(law.normal_table(), 1.38, rtol=1e-15)
    assert float(law.normal(77.0)) == pytest.approx(1.38)


def test_priors_lie_where_the_sources_put_them() -> None:
    # Cipolla & Keith 2002, FEDSM2002-36150 (abstract).
    assert 0.005 <= TANGENTIAL_PRIOR <= 0.008
    assert DragLaw().tangential == TANGENTIAL_PRIOR
    assert 0.0 < VIBRATION_RISE_LOW < VIBRATION_RISE_HIGH < 1.0


@pytest.mark.parametrize(
    "bad",
    [
        {"normal_constant": -0.1},
        {"normal_constant": float("nan")},
        {"normal_factor": 0.0},
        {"normal_factor": float("nan")},
        {"tangential": -0.001},
        {"tangential": 2.0},
    ],
)
def test_unphysical_coefficients_are_refused(bad: dict[str, float]) -> None:
    with pytest.raises(QuantityError, match="outside"):
        DragLaw(**bad)
