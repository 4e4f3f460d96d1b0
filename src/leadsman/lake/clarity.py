"""From the depth at which a Secchi disk is lost to light below the surface."""

from __future__ import annotations

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError

FloatArray = npt.NDArray[np.float64]

KSD_LOW = 1.1
KSD_HIGH = 2.8
KSD_CLASSIC = 1.7
KSD_WALKER = 1.45
"""Diffuse attenuation times Secchi depth [-]: 1.1 to 2.8 by water type, 1.7 the classic value
(from memory), 1.45 after Walker 1980."""


def check_secchi(secchi_m: float) -> None:
    """Refuse a Secchi depth no lake has.

    Parameters
    ----------
    secchi_m : float
        Secchi depth [m].

    Raises
    ------
    LakeDataError
        It is outside 2 cm to 45 m.
    """
    if not 0.02 <= secchi_m <= 45.0:
        raise LakeDataError(
            f"a clarity of {secchi_m:.4g} m is outside 0.02 to 45 m",
            "clarity",
            "Give the depth at which a white disk or a bright lure is lost from sight",
        )


def attenuation_per_m(secchi_m: float, k_times_secchi: float = KSD_CLASSIC) -> float:
    """Diffuse attenuation of light [m-1].

    Parameters
    ----------
    secchi_m : float
        Secchi depth [m].
    k_times_secchi : float
        Attenuation times Secchi depth [-].

    Raises
    ------
    LakeDataError
        No lake is so clear or so dark.
    """
    check_secchi(secchi_m)
    return k_times_secchi / secchi_m


def light_share(
    depth_m: FloatArray | float, secchi_m: float, k_times_secchi: float = KSD_CLASSIC
) -> FloatArray:
    """Light left at a depth over that just below the surface [-].

    Parameters
    ----------
    depth_m : ndarray or float
        Depths [m].
    secchi_m : float
        Secchi depth [m].
    k_times_secchi : float
        Attenuation times Secchi depth [-].

    Notes
    -----
    exp(-K z); the Beer-Lambert law.
    """
    k = attenuation_per_m(secchi_m, k_times_secchi)
    return np.exp(-k * np.asarray(depth_m, dtype=np.float64))


def light_range(depth_m: float, secchi_m: float) -> tuple[float, float, float]:
    """Darkest, classic and brightest light at a depth, over the range of water types [-].

    Parameters
    ----------
    depth_m : float
        Depth [m].
    secchi_m : float
        Secchi depth [m].
    """
    dark, middle, bright = (
        float(light_share(depth_m, secchi_m, k)) for k in (KSD_HIGH, KSD_CLASSIC, KSD_LOW)
    )
    return dark, middle, bright
