"""Fixes that jump off a track and back, which no boat does."""

from __future__ import annotations

import numpy as np

from leadsman.lake.soundings import BoolArray, FloatArray

MAX_BOAT_SPEED_M_S = 40.0
"""Faster than this a fix is wrong, not the boat [m s-1]; 90 mph, a choice of ours."""
EXCURSION_M = 60.0
"""A fix this far off a track that goes on without it is stray [m]; a choice of ours."""
EXCURSION_STEPS = 20.0
"""... and this many usual steps [-]; a choice of ours."""
LONGEST_RUN = 3
"""Most fixes in a row that are taken for one excursion [-]."""


def off_track(x_m: FloatArray, y_m: FloatArray, time_s: FloatArray | None) -> BoolArray:
    """Which fixes, in runs of up to three, lie off the track that goes on without them.

    Parameters
    ----------
    x_m, y_m : ndarray, shape (n,)
        Places in order of recording [m].
    time_s : ndarray, shape (n,), or None
        Their times [s].

    Returns
    -------
    ndarray of bool, shape (n,)
        True for a stray fix.
    """
    n = x_m.size
    bad = np.zeros(n, dtype=bool)
    if n < 5:
        return bad
    step = np.hypot(np.diff(x_m), np.diff(y_m))
    usual = float(np.median(step[step > 0.0])) if np.any(step > 0.0) else 0.0
    far = max(EXCURSION_M, EXCURSION_STEPS * usual)
    for run in range(1, LONGEST_RUN + 1):
        if n < run + 4:
            break
        leave, home = step[: n - run - 1], step[run:]
        back = np.hypot(x_m[run + 1 :] - x_m[: n - run - 1], y_m[run + 1 :] - y_m[: n - run - 1])
        off = np.minimum(leave, home)
        stray = (off > far) & (back < 0.25 * off)
        if time_s is not None:
            dt = np.diff(time_s)
            with np.errstate(divide="ignore", invalid="ignore"):
                speed = np.where(dt > 0.0, step / dt, 0.0)
            fast = np.minimum(speed[: n - run - 1], speed[run:]) > MAX_BOAT_SPEED_M_S
            stray |= fast & (off > 0.5 * EXCURSION_M) & (back < 0.5 * off)
        for shift in range(1, run + 1):
            bad[shift : shift + stray.size] |= stray
    return bad
