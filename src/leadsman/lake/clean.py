"""Soundings without what cannot be true: stray fixes, spikes, lost bottom, stuck positions."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError
from leadsman.lake.frame import MetricFrame
from leadsman.lake.off_track import off_track
from leadsman.lake.soundings import BoolArray, DropTally, FloatArray, ReadReport, Soundings

IntArray = npt.NDArray[np.int64]

STRAY_GAP_M = 1000.0
"""A group of fixes is stray only if it lies this far from all others [m]; a choice of ours."""
STRAY_DIAMETERS = 3.0
"""... and this many times as far as the main group is wide [-]; a choice of ours."""
STRAY_SHARE = 0.02
"""... and holds at most this share of all fixes [-]; a choice of ours."""
GROUP_CELL_M = 250.0
"""Fixes in touching cells of this width belong to one group [m]; a choice of ours."""
DOUBTFUL_M = 1.0
"""A sounding that departs this much from the track around it is doubtful [m]; a choice of ours."""
SPIKE_MIN_M = 2.5
"""A spike departs at least this much [m]. Boulders, logs and noise on a real track (a small
lake of the Canadian Shield) reach 2.2 m, so less than this is called doubtful and kept."""
SPIKE_SHARE = 0.25
"""... and this share of the depth around it [-]; a choice of ours."""
SPIKE_SCALES = 6.0
"""... and this many robust standard deviations of them [-]; a choice of ours."""
WINDOW = 4
"""Soundings looked at on either side [-]."""
MIN_LINES = 4
"""Pairs of a sounding before and one after that are needed to judge one [-]."""
ROUGHNESS_WINDOW = 12
"""Soundings on either side from which the roughness of the bed is taken [-]."""
WINDOW_REACH_M = 60.0
"""... as far as they are this near [m]."""
MAD_TO_SD = 1.4826
"""Standard deviation over median absolute deviation of a normal law [-], 1 / Phi^-1(3/4)."""
STUCK_RUN = 5
"""This many soundings in a row at one position are one place, not a track [-]."""
TIME_GAP_S = 60.0
"""A pause longer than this breaks the track [s]."""


def clean(soundings: Soundings, report: ReadReport) -> tuple[Soundings, ReadReport]:
    """Take out what cannot be true, say how much and why, and lose nothing else.

    Parameters
    ----------
    soundings : Soundings
        As read, in the order of recording [-].
    report : ReadReport
        Of the reader; the cleaning is added to it [-].

    Returns
    -------
    tuple of Soundings and ReadReport
        What is left, in the same order, and the report.

    Raises
    ------
    LakeDataError
        Nothing is left.
    """
    tally = DropTally.empty()
    said: list[str] = []
    warnings: list[str] = []
    for step in (_repeats, _stray_groups, _excursions, _lost_bottom, _spikes):
        keep = step(soundings, tally, said, warnings)
        if not np.all(keep):
            soundings = soundings.where(keep)
        if len(soundings) == 0:
            raise LakeDataError("nothing is left after cleaning", soundings.source)
    _say_times(soundings, said, warnings)
    soundings = _merge_stuck(soundings, tally, warnings)
    _say_extent(soundings, warnings)
    return soundings, replace(
        report,
        points_kept=len(soundings),
        said=report.said + tuple(said),
        dropped=report.dropped + tally.dropped(),
        warnings=report.warnings + tuple(warnings),
    )


def _metric(soundings: Soundings) -> tuple[FloatArray, FloatArray]:
    """Positions in metres, infinite ones pushed to a place far away."""
    frame = MetricFrame.around(soundings.lon_deg, soundings.lat_deg)
    x, y = frame.to_metric(soundings.lon_deg, soundings.lat_deg)
    far = ~(np.isfinite(x) & np.isfinite(y))
    x[far] = 1e8
    y[far] = 1e8
    return x, y


def _repeats(
    soundings: Soundings, tally: DropTally, said: list[str], warnings: list[str]
) -> BoolArray:
    """Rows that repeat the row before them in everything."""
    columns = [soundings.lon_deg, soundings.lat_deg, soundings.depth_m]
    columns.append(soundings.depth_m if soundings.time_s is None else soundings.time_s)
    same = np.ones(len(soundings), dtype=bool)
    for column in columns:
        same[1:] &= np.diff(column) == 0.0
    same[0] = False
    # A moored boat repeats itself too; without times only stuck runs tell, and those are merged.
    if soundings.time_s is None:
        return np.ones(len(soundings), dtype=bool)
    tally.add("repeats the sounding before it", None, int(np.count_nonzero(same)))
    return ~same


def _groups(x: FloatArray, y: FloatArray) -> tuple[IntArray, int]:
    """Number of the spatial group of each fix, and how many groups there are."""
    from scipy.sparse import coo_array
    from scipy.sparse.csgraph import connected_components

    cells = np.stack([np.floor(x / GROUP_CELL_M), np.floor(y / GROUP_CELL_M)], axis=1).astype(
        np.int64
    )
    unique, inverse = np.unique(cells, axis=0, return_inverse=True)
    from scipy.spatial import cKDTree

    pairs = cKDTree(unique).query_pairs(1.5, output_type="ndarray")
    graph = coo_array(
        (np.ones(len(pairs), dtype=np.int8), (pairs[:, 0], pairs[:, 1])), shape=(len(unique),) * 2
    )
    count, labels = connected_components(graph, directed=False)
    return labels.astype(np.int64)[inverse.reshape(-1)], int(count)


def _stray_groups(
    soundings: Soundings, tally: DropTally, said: list[str], warnings: list[str]
) -> BoolArray:
    """Small groups of fixes far away from all others."""
    keep = np.ones(len(soundings), dtype=bool)
    x, y = _metric(soundings)
    label, count = _groups(x, y)
    if count == 1:
        return keep
    sizes = np.bincount(label, minlength=count)
    main = int(np.argmax(sizes))
    near = label == main
    width = float(np.hypot(np.ptp(x[near]), np.ptp(y[near])))
    limit = max(STRAY_GAP_M, STRAY_DIAMETERS * width)
    from scipy.spatial import cKDTree

    distance, _ = cKDTree(np.stack([x[near], y[near]], axis=1)).query(np.stack([x, y], axis=1))
    gap = np.full(count, np.inf)
    np.minimum.at(gap, label, distance)
    stray = (gap > limit) & (sizes <= max(STRAY_SHARE * len(soundings), 1.0))
    keep = ~stray[label]
    lost = int(np.count_nonzero(~keep))
    if lost:
        farthest = float(np.max(gap[stray]))
        tally.add(f"stray fix, over {limit / 1000.0:.1f} km from all others", None, lost)
        said.append(f"Stray fixes lie up to {farthest / 1000.0:.1f} km away from the rest")
    left = np.unique(label[keep]).size
    if left > 1:
        said.append(f"The soundings lie in {left} separate groups; all are kept")
    return keep


def _excursions(
    soundings: Soundings, tally: DropTally, said: list[str], warnings: list[str]
) -> BoolArray:
    """Single fixes that jump off the track and back."""
    x, y = _metric(soundings)
    bad = off_track(x, y, soundings.time_s)
    tally.add("stray fix, off the track and back at once", None, int(np.count_nonzero(bad)))
    return ~bad


def _departures(x: FloatArray, y: FloatArray, depth: FloatArray) -> tuple[FloatArray, FloatArray]:
    """How far each depth departs from the track around it, and the depth expected there.

    The expected depth is the median of the straight lines between one of the
    `WINDOW` soundings before and one of those after, so that slopes, ledges
    and runs of up to three wrong depths do not disturb it. NaN where too few
    soundings are near.
    """
    n = depth.size
    expected = np.full(n, np.nan)
    block = 100_000
    for start in range(0, n, block):
        index = np.arange(start, min(start + block, n))
        lines: list[FloatArray] = []
        sides: dict[int, tuple[FloatArray, FloatArray]] = {}
        for shift in (*range(-WINDOW, 0), *range(1, WINDOW + 1)):
            other = np.clip(index + shift, 0, n - 1)
            gap = np.hypot(x[other] - x[index], y[other] - y[index])
            gap[(other != index + shift) | (gap > WINDOW_REACH_M)] = np.nan
            sides[shift] = (gap, depth[other])
        for before in range(1, WINDOW + 1):
            for after in range(1, WINDOW + 1):
                (g1, d1), (g2, d2) = sides[-before], sides[after]
                lines.append((d1 * (g2 + 0.05) + d2 * (g1 + 0.05)) / (g1 + g2 + 0.1))
        ordered = np.sort(np.stack(lines, axis=1), axis=1)  # NaN goes last
        count = np.count_nonzero(np.isfinite(ordered), axis=1)
        rows = np.arange(index.size)
        low = ordered[rows, np.maximum((count - 1) // 2, 0)]
        high = ordered[rows, np.minimum(count // 2, WINDOW * WINDOW - 1)]
        middle = np.where(count >= MIN_LINES, 0.5 * (low + high), np.nan)
        # A ledge departs from one side only; a spike from both, the same way.
        left = depth[index] - _side_median([sides[-k] for k in range(1, WINDOW + 1)])
        right = depth[index] - _side_median([sides[k] for k in range(1, WINDOW + 1)])
        both = np.minimum(np.abs(left), np.abs(right)) > 0.4 * np.abs(depth[index] - middle)
        expected[index] = np.where((left * right > 0.0) & both, middle, depth[index])
        expected[index[np.isnan(middle)]] = np.nan
    return depth - expected, expected


def _side_median(side: list[tuple[FloatArray, FloatArray]]) -> FloatArray:
    """Median depth of the near soundings on one side, NaN where there are none."""
    near = np.stack([np.where(np.isfinite(gap), depth, np.nan) for gap, depth in side], axis=1)
    ordered = np.sort(near, axis=1)
    count = np.count_nonzero(np.isfinite(ordered), axis=1)
    rows = np.arange(near.shape[0])
    low = ordered[rows, np.maximum((count - 1) // 2, 0)]
    high = ordered[rows, np.minimum(count // 2, near.shape[1] - 1)]
    return np.asarray(0.5 * (low + high), dtype=np.float64)


def _roughness(departure: FloatArray) -> FloatArray:
    """Robust spread of the departures around each sounding."""
    n = departure.size
    size = np.abs(departure)
    reach = 2 * ROUGHNESS_WINDOW + 1
    padded = np.pad(size, ROUGHNESS_WINDOW, constant_values=np.nan)
    spread = np.empty(n)
    block = 100_000
    views = np.lib.stride_tricks.sliding_window_view(padded, reach)
    for start in range(0, n, block):
        ordered = np.sort(views[start : start + block], axis=1)
        count = np.count_nonzero(np.isfinite(ordered), axis=1)
        middle = ordered[np.arange(ordered.shape[0]), np.maximum((count - 1) // 2, 0)]
        spread[start : start + block] = MAD_TO_SD * np.nan_to_num(middle)
    return spread


def _lost_bottom(
    soundings: Soundings, tally: DropTally, said: list[str], warnings: list[str]
) -> BoolArray:
    """Zero depths amid deeper water; zeros along a shore are kept."""
    zero = soundings.depth_m <= 0.0
    if not np.any(zero):
        return np.ones(zero.shape, dtype=bool)
    if np.all(zero):
        raise LakeDataError("every depth is zero", soundings.source, "Check which column is depth")
    x, y = _metric(soundings)
    # Zeros in a row hide each other, so each is held against the nearest depth that is none.
    wet = np.flatnonzero(~zero)
    at = np.flatnonzero(zero)
    after = np.clip(np.searchsorted(wet, at), 0, wet.size - 1)
    before = np.maximum(after - 1, 0)
    lost = zero.copy()
    for side in (before, after):
        gap = np.hypot(x[wet[side]] - x[at], y[wet[side]] - y[at])
        lost[at] &= (soundings.depth_m[wet[side]] > DOUBTFUL_M) & (gap < WINDOW_REACH_M)
    tally.add("zero depth amid deeper water (lost bottom)", None, int(np.count_nonzero(lost)))
    shore = int(np.count_nonzero(zero & ~lost))
    if shore:
        said.append(f"{shore:,} zero depths are kept as shoreline")
    return ~lost


def _spikes(
    soundings: Soundings, tally: DropTally, said: list[str], warnings: list[str]
) -> BoolArray:
    """Depths that jump away from the track and back within three soundings."""
    keep = np.ones(len(soundings), dtype=bool)
    doubtful = 0
    x, y = _metric(soundings)
    for _ in range(3):
        index = np.flatnonzero(keep)
        if index.size < 6:
            break
        departure, expected = _departures(x[index], y[index], soundings.depth_m[index])
        floor = np.maximum(SPIKE_SHARE * expected, SPIKE_SCALES * _roughness(departure))
        with np.errstate(invalid="ignore"):
            bad = np.abs(departure) > np.maximum(floor, SPIKE_MIN_M)
            doubtful = int(np.count_nonzero(np.abs(departure) > np.maximum(floor, DOUBTFUL_M)))
        if not np.any(bad):
            break
        keep[index[bad]] = False
    if doubtful:
        warnings.append(
            f"{doubtful:,} soundings stand {DOUBTFUL_M:.0f} m or more off "
            "their track; too little to call them wrong, so they are kept"
        )
    tally.add("depth spike", None, int(np.count_nonzero(~keep)))
    return keep


def _merge_stuck(soundings: Soundings, tally: DropTally, warnings: list[str]) -> Soundings:
    """One sounding, the median, for each run of many at one position."""
    n = len(soundings)
    moved = (np.diff(soundings.lon_deg) != 0.0) | (np.diff(soundings.lat_deg) != 0.0)
    run = np.concatenate([[0], np.cumsum(moved)])
    length = np.bincount(run)
    stuck = np.flatnonzero(length >= STUCK_RUN)
    if stuck.size == 0:
        return soundings
    keep = np.ones(n, dtype=bool)
    depth = soundings.depth_m.copy()
    starts = np.concatenate([[0], np.cumsum(length)[:-1]])
    spread = 0.0
    for group in stuck:
        first, last = int(starts[group]), int(starts[group] + length[group])
        depth[first] = np.median(depth[first:last])
        spread = max(spread, float(np.ptp(soundings.depth_m[first:last])))
        keep[first + 1 : last] = False
    lost = int(np.count_nonzero(~keep))
    tally.add("same position as the sounding before (merged to one median)", None, lost)
    if spread > DOUBTFUL_M:
        warnings.append(
            f"depths at one unchanged position differ by up to {spread:.1f} m; "
            "perhaps the position was stuck"
        )
    return replace(soundings, depth_m=depth).where(keep)


def _say_times(soundings: Soundings, said: list[str], warnings: list[str]) -> None:
    """Pauses and a clock that runs backward; the soundings stay, as their place is known."""
    if soundings.time_s is None or len(soundings) < 2:
        return
    step = np.diff(soundings.time_s)
    back = int(np.count_nonzero(step < 0.0))
    pauses = int(np.count_nonzero(step > TIME_GAP_S))
    if back:
        warnings.append(f"the clock jumps backward {back:,} times; the soundings are kept")
    if pauses:
        said.append(
            f"{pauses:,} pauses of over {TIME_GAP_S:.0f} s; nothing is interpolated across them"
        )


def _say_extent(soundings: Soundings, warnings: list[str]) -> None:
    """A boat that did not move maps nothing, and says so."""
    x, y = _metric(soundings)
    width = float(np.hypot(np.ptp(x), np.ptp(y)))
    if width < 20.0:
        low, high = float(np.min(soundings.depth_m)), float(np.max(soundings.depth_m))
        warnings.append(
            f"all soundings lie within {width:.0f} m (depths {low:.1f} to {high:.1f} m): "
            "a boat that does not move maps nothing but its own place"
        )
