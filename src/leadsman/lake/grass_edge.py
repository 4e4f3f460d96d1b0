"""How deep the grass grows: from places where it was seen to stop, else from clarity.

Published regressions of the deepest plants on Secchi depth differ by region
and scatter within it, so they give a band, never a line.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

import numpy as np

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import Z_90
from leadsman.lake.soundings import FloatArray

MIN_SECCHI_M, MAX_SECCHI_M = 0.1, 20.0
POINT_DEPTH_SE_M = 0.2
"""Standard error of the depth read off at one marked place [m]: a display at slow speed; a choice
of ours, no source."""
MIN_SPREAD_M = 0.15
"""Least spread of the edge along a lake [m]; half a foot, a choice of ours."""
PRIOR_SPREAD_M = 0.6
"""Spread of the edge from place to place before it was marked [m]; a choice of ours."""


@dataclass(frozen=True, slots=True)
class Regression:
    """A published regression of the deepest plants on Secchi depth.

    Parameters
    ----------
    name : str
        Authors and year [-].
    lakes : str
        Where it comes from [-].
    form : {"log", "root"}
        ``log10 depth = slope log10 SD + intercept`` or the square root of
        depth on the left [-].
    slope, intercept : float
        Coefficients, depths in metres [-].
    source : str
        Citation, and whether it was read or is recalled [-].
    """

    name: str
    lakes: str
    form: Literal["log", "root"]
    slope: float
    intercept: float
    source: str

    def depth_m(self, secchi_m: float) -> float:
        """Depth of the deepest plants [m].

        Parameters
        ----------
        secchi_m : float
            Secchi depth [m].
        """
        value = self.slope * math.log10(secchi_m) + self.intercept
        return float(10.0**value) if self.form == "log" else max(value, 0.0) ** 2


CAFFREY = Regression(
    "Caffrey, Hoyer & Canfield 2007", "187 Florida lakes", "log", 0.66, 0.31,
    "Lake Reserv. Manage. 23:287-297",
)  # fmt: skip
CAFFREY_UPPER = Regression(
    "Caffrey, Hoyer & Canfield 2007, upper line", "187 Florida lakes", "log", 0.53, 0.59,
    "Lake Reserv. Manage. 23:287-297",
)  # fmt: skip
CANFIELD = Regression(
    "Canfield et al. 1985", "lakes of Florida and Wisconsin", "log", 0.61, 0.26,
    "J. Aquat. Plant Manage. 23:25-28, from memory",
)  # fmt: skip
CHAMBERS = Regression(
    "Chambers & Kalff 1985", "northern lakes", "root", 1.33, 1.40,
    "Can. J. Fish. Aquat. Sci. 42:701-709, from memory",
)  # fmt: skip
REGRESSIONS = (CAFFREY, CANFIELD, CHAMBERS)
"""Regressions of the mean; `CAFFREY_UPPER` bounds what was seen."""


@dataclass(frozen=True, slots=True)
class EdgeDepth:
    """Depth at which the grass stops, as a band.

    Parameters
    ----------
    depth_m : float
        Best guess [m].
    low_m, high_m : float
        Band: 90 % of places along the lake for marked edges; for clarity the
        lowest regression to the upper line [m].
    se_m : float
        Standard error of the edge at one place, for contours [m].
    origin : {"marked", "clarity"}
        What it rests on [-].
    said : tuple of str
        How it was found, each a sentence [-].
    """

    depth_m: float
    low_m: float
    high_m: float
    se_m: float
    origin: Literal["marked", "clarity"]
    said: tuple[str, ...]


def edge_from_secchi(secchi_m: float) -> EdgeDepth:
    """Grass edge expected from clarity alone.

    Parameters
    ----------
    secchi_m : float
        Secchi depth, summer [m].

    Returns
    -------
    EdgeDepth
        The geometric mean of the regressions, with a band from the lowest of
        them to the upper line.

    Raises
    ------
    LakeDataError
        The Secchi depth is outside what lakes have.
    """
    if not MIN_SECCHI_M <= secchi_m <= MAX_SECCHI_M:
        raise LakeDataError(
            f"a Secchi depth of {secchi_m:.3g} m is outside {MIN_SECCHI_M} to {MAX_SECCHI_M:.0f} m",
            "clarity",
        )
    depths = {r.name: r.depth_m(secchi_m) for r in REGRESSIONS}
    best = math.exp(sum(math.log(max(d, 0.05)) for d in depths.values()) / len(depths))
    low = min(depths.values())
    high = max(CAFFREY_UPPER.depth_m(secchi_m), *depths.values())
    said = tuple(
        f"{name}: {depth:.2f} m at {secchi_m:.2f} m clarity" for name, depth in depths.items()
    )
    # The upper line bounds nearly all lakes seen, the mean line half of them.
    se = max((math.log(high) - math.log(best)) / Z_90 * best, PRIOR_SPREAD_M)
    return EdgeDepth(best, low, high, se, "clarity", (*said, "A guess from clarity; mark the edge"))


def edge_from_points(depth_m: FloatArray, depth_se_m: float = POINT_DEPTH_SE_M) -> EdgeDepth:
    """Grass edge from depths at which it was seen to stop.

    The places scatter because the edge does and because each depth is read
    with an error; the second is taken out of the first. With few places the
    spread is drawn toward a prior worth two of them.

    Parameters
    ----------
    depth_m : ndarray, shape (n,)
        Depths below the reference level at the marked places [m].
    depth_se_m : float
        Standard error of one reading [m].

    Returns
    -------
    EdgeDepth
        The median place and the band in which 90 % of places lie.

    Raises
    ------
    LakeDataError
        There are none, or they are no depths.
    """
    depth_m = np.asarray(depth_m, dtype=np.float64)
    if depth_m.size == 0:
        raise LakeDataError(
            "no edge points were given", "edge points", "Mark where the grass stops"
        )
    if not np.all(np.isfinite(depth_m)) or np.any(depth_m <= 0.0) or np.any(depth_m > 40.0):
        raise LakeDataError("an edge point is no depth between 0 and 40 m", "edge points")
    n = depth_m.size
    best = float(np.median(depth_m))
    scatter2 = float(np.var(depth_m, ddof=1)) if n > 1 else PRIOR_SPREAD_M**2 + depth_se_m**2
    own2 = max(scatter2 - depth_se_m**2, 0.0)
    spread2 = ((n - 1) * own2 + 2.0 * PRIOR_SPREAD_M**2) / (n + 1)
    spread = math.sqrt(max(spread2, MIN_SPREAD_M**2))
    # pi / 2: variance of a median over that of a mean, for a normal law.
    centre = math.sqrt(0.5 * math.pi * (spread**2 + depth_se_m**2) / n)
    se = math.hypot(spread, centre)
    said = (
        f"The edge was marked at {n} places, {float(depth_m.min()):.2f} to "
        f"{float(depth_m.max()):.2f} m; it varies by {spread:.2f} m from place to place",
    )
    return EdgeDepth(best, max(best - Z_90 * se, 0.0), best + Z_90 * se, se, "marked", said)
