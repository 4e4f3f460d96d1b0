"""Drag coefficients of a thin line: across the flow and along it."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import QuantityError

FloatArray = npt.NDArray[np.float64]

LOG2_RE_MIN = -7.0
"""Lower end of the table of C_n: log2 of the Reynolds number, Re = 1/128 [-]."""

LOG2_RE_MAX = 13.0
"""Upper end of the table of C_n: log2 of the Reynolds number, Re = 8192 [-]."""

TABLE_SIZE = 641
"""Points of the table, 32 to a doubling of Re: linear interpolation in log2 Re is then
within 4e-5 of the formula everywhere in the table [-]."""

TANGENTIAL_PRIOR = 0.0065
"""C_t on the wetted surface pi d L [-].

Middle of 0.005 to 0.008, which is 2 to 3 times the flat-plate value, as found on long thin
neutrally buoyant cylinders of 0.89 and 2.5 mm, 30 to 150 m long (Cipolla & Keith 2002,
FEDSM2002-36150, read only as abstract). No measurement for fishing line is known.
"""

TANGENTIAL_LOG_SD = 0.4
"""Spread of C_t, standard deviation of its natural logarithm [-].

Own assumption, wide on purpose: 0.0043 to 0.0097 at one standard deviation, because the
measured cylinders were thicker than a line and the lay of a used line is not smooth.
"""

NORMAL_FIT_LOG_SD = 0.08
"""Spread of C_n between published fits, standard deviation of its natural logarithm [-].

The fits of Cheng and White differ by about 8 % over Re 50 to 2000, by 17 % at their worst:
the figure is their typical difference, taken as one standard deviation.
"""

VIBRATION_RISE_LOW = 0.15
VIBRATION_RISE_HIGH = 0.30
"""A line that sheds vortices vibrates, which raises C_n by 15 to 30 % where it happens [-].

Own reading of the wide range reported for vibrating cables, with no measurement at these
diameters: a range to plan with, not a measurement.
"""

VIBRATION_RISE_MEAN = 0.08
"""Mean of the exponential prior on the rise of C_n by vibration [-].

Own assumption. Skewed: no rise is the commonest case and it never lowers C_n; a rise above
0.15 has a chance of 15 % and one above 0.30 of 2 %.
"""


def normal_drag_cheng(re: FloatArray | float) -> FloatArray:
    """Drag coefficient of a smooth circular cylinder across the flow, after Cheng.

    Parameters
    ----------
    re : float or ndarray
        Reynolds number of the velocity normal to the cylinder, on its
        diameter, above 0 [-].

    Returns
    -------
    ndarray
        C_n on the frontal area d L, same shape as `re` [-].

    Notes
    -----
    ``11 Re^-0.75 + 0.9 (1 - exp(-1000/Re)) + 1.2 (1 - exp(-(Re/4500)^0.7))``,
    Cheng 2013, J. Hydraul. Eng. 139:602, read only where it is cited.
    """
    x = np.asarray(re, dtype=np.float64)
    return np.asarray(
        11.0 * x**-0.75 + 0.9 * -np.expm1(-1000.0 / x) + 1.2 * -np.expm1(-((x / 4500.0) ** 0.7)),
        dtype=np.float64,
    )


def normal_drag_white(re: FloatArray | float) -> FloatArray:
    """Drag coefficient of a smooth circular cylinder across the flow, after White.

    Parameters
    ----------
    re : float or ndarray
        Reynolds number of the velocity normal to the cylinder, on its
        diameter, above 0 [-].

    Returns
    -------
    ndarray
        C_n on the frontal area d L, same shape as `re` [-].

    Notes
    -----
    ``1 + 10 Re^(-2/3)``, White, Viscous Fluid Flow, from memory. Kept to show
    how far published fits are apart.
    """
    x = np.asarray(re, dtype=np.float64)
    return np.asarray(1.0 + 10.0 * x ** (-2.0 / 3.0), dtype=np.float64)


@dataclass(frozen=True, slots=True)
class DragLaw:
    """How strongly water holds a line, across and along it.

    Drag across the line is ``1/2 rho C_n d v_n |v_n|`` and along it
    ``1/2 rho pi d C_t v_t |v_t|``, both per unstretched metre and each from
    its own part of the velocity only (the independence principle).

    Parameters
    ----------
    normal_constant : float or None
        C_n as one constant; None takes Cheng's fit at the local Reynolds
        number of the normal velocity [-].
    normal_factor : float
        What C_n is multiplied by: 1 is the published value, more is a
        vibrating or rough line [-].
    tangential : float
        C_t [-].

    Raises
    ------
    QuantityError
        A coefficient lies outside what is physical.
    """

    normal_constant: float | None = None
    normal_factor: float = 1.0
    tangential: float = TANGENTIAL_PRIOR

    def __post_init__(self) -> None:
        if self.normal_constant is not None and not 0.0 <= self.normal_constant <= 20.0:
            raise QuantityError(
                f"normal drag coefficient {self.normal_constant:.4g} is outside 0 to 20",
                "normal drag coefficient",
            )
        if not 0.05 <= self.normal_factor <= 20.0:
            raise QuantityError(
                f"factor on normal drag {self.normal_factor:.4g} is outside 0.05 to 20",
                "normal drag factor",
            )
        if not 0.0 <= self.tangential <= 1.0:
            raise QuantityError(
                f"tangential drag coefficient {self.tangential:.4g} is outside 0 to 1",
                "tangential drag coefficient",
            )

    def normal(self, re: FloatArray | float) -> FloatArray:
        """C_n at Reynolds numbers, factor included.

        Parameters
        ----------
        re : float or ndarray
            Reynolds number of the normal velocity, above 0 [-].

        Returns
        -------
        ndarray
            C_n, same shape as `re` [-].
        """
        if self.normal_constant is not None:
            shape = np.shape(re)
            return np.full(shape, self.normal_constant * self.normal_factor, dtype=np.float64)
        return self.normal_factor * normal_drag_cheng(re)

    def normal_table(self) -> FloatArray:
        """C_n, factor included, on the fixed grid that the kernels read.

        The grid is even in log2 Re from `LOG2_RE_MIN` to `LOG2_RE_MAX`; C_n is
        read from it linearly in log2 Re and held at its ends beyond them.

        Returns
        -------
        ndarray, shape (TABLE_SIZE,)
            C_n [-].
        """
        return self.normal(2.0 ** np.linspace(LOG2_RE_MIN, LOG2_RE_MAX, TABLE_SIZE))


def interpolate_normal(table: FloatArray, re: float) -> float:
    """Read C_n from a table of `DragLaw.normal_table`, as the kernels do.

    Parameters
    ----------
    table : ndarray, shape (TABLE_SIZE,)
        C_n on the fixed grid [-].
    re : float
        Reynolds number of the normal velocity, at least 0 [-].

    Returns
    -------
    float
        C_n [-].
    """
    if re <= 2.0**LOG2_RE_MIN:
        return float(table[0])
    place = (math.log2(re) - LOG2_RE_MIN) * (TABLE_SIZE - 1) / (LOG2_RE_MAX - LOG2_RE_MIN)
    if place >= TABLE_SIZE - 1:
        return float(table[-1])
    low = int(place)
    part = place - low
    return float(table[low] * (1.0 - part) + table[low + 1] * part)
