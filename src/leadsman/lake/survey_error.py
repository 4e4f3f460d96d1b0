"""Error of a sounding by itself, before anything is interpolated."""

from __future__ import annotations

import numpy as np

from leadsman.lake.soundings import FloatArray

ORDER_1A_A_M = 0.5
"""Constant part of the allowed vertical error [m], IHO S-44 Edition 6 (2020), Order 1a."""
ORDER_1A_B = 0.013
"""Part that grows with depth [-], IHO S-44 Edition 6 (2020), Order 1a."""
COVERAGE_95 = 1.959964
"""Half-width of a 95 % interval of the normal law in standard errors [-]."""


def total_vertical_uncertainty_m(
    depth_m: FloatArray | float, a_m: float = ORDER_1A_A_M, b: float = ORDER_1A_B
) -> FloatArray:
    """Largest vertical error of a survey at 95 % confidence, sqrt(a^2 + (b d)^2).

    IHO Standards for Hydrographic Surveys, S-44 Edition 6 (2020), section 3.

    Parameters
    ----------
    depth_m : float or ndarray
        Depth [m].
    a_m : float
        Constant part [m].
    b : float
        Part of depth [-].

    Returns
    -------
    ndarray
        Half-width of the 95 % band [m].
    """
    return np.asarray(np.hypot(a_m, b * np.asarray(depth_m, dtype=np.float64)), dtype=np.float64)


def survey_se_m(
    depth_m: FloatArray | float, a_m: float = ORDER_1A_A_M, b: float = ORDER_1A_B
) -> FloatArray:
    """Standard error of a sounding that just meets S-44.

    Parameters
    ----------
    depth_m : float or ndarray
        Depth [m].
    a_m : float
        Constant part [m].
    b : float
        Part of depth [-].

    Returns
    -------
    ndarray
        Standard error, the 95 % band over 1.96 [m].
    """
    return np.asarray(total_vertical_uncertainty_m(depth_m, a_m, b) / COVERAGE_95, dtype=np.float64)
