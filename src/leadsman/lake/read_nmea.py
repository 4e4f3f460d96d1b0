"""Soundings from an NMEA 0183 log: depths joined to positions by their order in the log."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from leadsman.errors import LakeDataError, Where
from leadsman.lake.file_guard import read_text
from leadsman.lake.nmea_sentence import (
    DepthReading,
    Fix,
    Sentence,
    parse_depth,
    parse_fix,
    parse_sentence,
    parse_zda_day,
)
from leadsman.lake.off_track import off_track
from leadsman.lake.soundings import (
    DEEPEST_LAKE_M,
    BoolArray,
    DropTally,
    FloatArray,
    ReadReport,
    Soundings,
)

MAX_FIX_GAP_S = 10.0
"""Longest gap between two fixes across which a position is interpolated [s].
At a survey speed of 3 m/s the boat goes 30 m in it; a choice of ours."""
MAX_FIX_GAP_M = 200.0
"""Widest gap between two fixes without times across which we interpolate [m]; a choice of ours."""
DAY_S = 86400.0
DEGREE_M = 111_320.0
"""Length of a degree of longitude on the equator [m], WGS84, rounded."""


@dataclass(slots=True)
class _Log:
    """What one pass over the lines collects."""

    fixes: list[tuple[int, Fix]]
    depths: list[tuple[int, str, DepthReading]]
    dates: list[tuple[int, float]]
    tally: DropTally
    kinds: Counter[str]


def read_nmea(
    path: Path, transducer_depth_m: float | None = None, require_checksum: bool = True
) -> tuple[Soundings, ReadReport]:
    """Read a log of depth and position sentences.

    Depths come from DBS, DPT or DBT, positions from GGA, GLL or RMC, dates
    from RMC or ZDA (GGA and GLL carry none). A depth lies between the fix
    before and the fix after it in the log, at its share of the lines.

    Parameters
    ----------
    path : pathlib.Path
        The log [-].
    transducer_depth_m : float or None
        Depth of the transducer below the surface, for depths that are
        measured from it; None takes 0 and says so [m].
    require_checksum : bool
        Leave out sentences without a checksum [-].

    Returns
    -------
    tuple of Soundings and ReadReport
        Soundings in log order, and what was found and left out.

    Raises
    ------
    LakeDataError
        It is no such log, or holds no depth with a position.
    """
    if transducer_depth_m is not None and not 0.0 <= transducer_depth_m <= 10.0:
        raise LakeDataError(
            "is outside 0 to 10 m", Where("transducer depth"), "Give its depth below the surface"
        )
    source = path.name
    log = _collect(read_text(path).splitlines(), require_checksum)
    said = [f"Sentences: {', '.join(f'{n:,} {kind}' for kind, n in log.kinds.most_common())}"]
    warnings: list[str] = []
    faults = "; ".join(str(item) for item in log.tally.dropped())
    if not log.kinds:
        raise LakeDataError(
            f"holds no valid NMEA 0183 sentence{f' ({faults})' if faults else ''}", source
        )
    points_in = len(log.depths) + log.tally.counts.get("no bottom in the sentence", 0)
    depths = _one_source(log.depths, log.tally, said)
    if not depths:
        raise LakeDataError(
            f"holds no depth (DBT, DPT or DBS){f'; dropped: {faults}' if faults else ''}", source
        )
    if not log.fixes:
        raise LakeDataError(
            "holds depths but no valid position (GGA, GLL or RMC)", source, "Log both together"
        )
    depth_m = _below_surface(depths, transducer_depth_m, said, warnings)
    at = np.array([line for line, _, _ in depths], dtype=np.float64)
    lon, lat, time_s, has_date, near = _join(at, log, said)
    keep = _usable(depth_m, near, at, log.tally)
    if not np.any(keep):
        raise LakeDataError(
            f"no depth has a position ({'; '.join(str(d) for d in log.tally.dropped())})", source
        )
    soundings = Soundings(
        lon[keep],
        lat[keep],
        depth_m[keep],
        None if time_s is None else time_s[keep],
        source,
        has_date,
    )
    return soundings, ReadReport(
        source, "nmea", points_in, len(soundings), tuple(said), log.tally.dropped(), tuple(warnings)
    )


def _collect(lines: list[str], require_checksum: bool) -> _Log:
    """Sort the sentences of a log by what they tell."""
    log = _Log([], [], [], DropTally.empty(), Counter())
    for number, line in enumerate(lines, 1):
        sentence = parse_sentence(line)
        if sentence == "no checksum" and not require_checksum:
            sentence = _without_checksum(line)
        if isinstance(sentence, str):
            log.tally.add(sentence, number)
            continue
        if sentence is None:
            if line.strip() and "$" not in line and line.strip()[0] not in "!\\#":
                log.tally.add("line that is no sentence", number)
            continue
        log.kinds[sentence.talker + sentence.kind] += 1
        _sort_in(sentence, number, log)
    return log


def _without_checksum(line: str) -> Sentence | None:
    body = line[line.rfind("$") + 1 :].strip()
    address, _, rest = body.partition(",")
    return Sentence(address[:2], address[2:], tuple(rest.split(",")))


def _sort_in(sentence: Sentence, number: int, log: _Log) -> None:
    if sentence.kind in ("GGA", "GLL", "RMC"):
        fix = parse_fix(sentence)
        if fix is None:
            log.tally.add("position sentence without a valid fix", number)
            return
        log.fixes.append((number, fix))
        if fix.day_s is not None:
            log.dates.append((number, fix.day_s))
    elif sentence.kind == "ZDA":
        day = parse_zda_day(sentence)
        if day is not None:
            log.dates.append((number, day))
    else:
        reading = parse_depth(sentence)
        if isinstance(reading, DepthReading):
            log.depths.append((number, sentence.talker + sentence.kind, reading))
        elif reading == "no bottom":
            log.tally.add("no bottom in the sentence", number)
        elif reading == "damaged":
            log.tally.add("damaged depth sentence", number)


def _one_source(
    depths: list[tuple[int, str, DepthReading]], tally: DropTally, said: list[str]
) -> list[tuple[int, str, DepthReading]]:
    """Keep the one kind of sentence that tells most, so that no echo counts twice."""
    if not depths:
        return []
    rank = {"surface": 2, "transducer": 1, "keel": 0}
    counts = Counter(kind for _, kind, _ in depths)
    best = dict.fromkeys(counts, 0)
    for _, kind, reading in depths:
        best[kind] = max(best[kind], rank[reading.below])
    usable = [kind for kind in counts if best[kind] > 0]
    if not usable:
        tally.add("depth below the keel only (DBK)", None, len(depths))
        return []
    chosen = max(
        usable,
        key=lambda kind: (counts[kind] >= 0.5 * max(counts.values()), best[kind], counts[kind]),
    )
    for kind, count in counts.items():
        if kind != chosen:
            tally.add(f"second report of the same depth ({kind}, {chosen} is used)", None, count)
    if len(counts) > 1:
        said.append(f"Several kinds of depth sentence; {chosen} is used")
    return [item for item in depths if item[1] == chosen]


def _below_surface(
    depths: list[tuple[int, str, DepthReading]],
    transducer_depth_m: float | None,
    said: list[str],
    warnings: list[str],
) -> FloatArray:
    """Depths below the surface."""
    add = transducer_depth_m or 0.0
    below = Counter(reading.below for _, _, reading in depths)
    values = np.array(
        [
            r.depth_m + (add if r.below == "transducer" and r.depth_m > 0.0 else 0.0)
            for _, _, r in depths
        ]
    )
    if below["surface"]:
        said.append(f"{below['surface']:,} depths are below the surface, by the sentence itself")
    if below["transducer"] and transducer_depth_m is not None:
        said.append(
            f"{below['transducer']:,} depths are below the transducer; its {add:.2f} m were added"
        )
    elif below["transducer"]:
        said.append(
            f"{below['transducer']:,} depths are below the transducer, whose own depth is "
            "not known: taken as 0"
        )
        warnings.append(
            "depths are too small by the depth of the transducer; give it to correct them"
        )
    return values


def _join(
    at: FloatArray, log: _Log, said: list[str]
) -> tuple[FloatArray, FloatArray, FloatArray | None, bool, BoolArray]:
    """Position and time of each depth from the fixes around it in the log."""
    line, lon, lat, clock = _fix_track(log, said)
    time_s, has_date = _timeline(line, clock, log, said)
    right = np.clip(np.searchsorted(line, at), 1, max(line.size - 1, 1))
    left = right - 1
    if line.size == 1:
        right = left = np.zeros(at.shape, dtype=np.int64)
    span = np.maximum(line[right] - line[left], 1.0)
    share = np.clip((at - line[left]) / span, 0.0, 1.0)
    step = (lon[right] - lon[left] + 180.0) % 360.0 - 180.0
    out_lon = (lon[left] + share * step + 180.0) % 360.0 - 180.0
    out_lat = lat[left] + share * (lat[right] - lat[left])
    gap_m = DEGREE_M * np.hypot(step * np.cos(np.radians(out_lat)), lat[right] - lat[left])
    near = gap_m <= MAX_FIX_GAP_M
    out_time: FloatArray | None = None
    if time_s is not None:
        gap_s = time_s[right] - time_s[left]
        near &= (gap_s >= 0.0) & (gap_s <= MAX_FIX_GAP_S)
        out_time = time_s[left] + share * gap_s
    # Before the first and after the last fix only a neighbour of a few lines is near.
    cycle = float(np.median(np.diff(line))) if line.size > 1 else 3.0
    outside = np.maximum(line[0] - at, at - line[-1])
    near &= outside <= 3.0 * max(cycle, 1.0)
    said.append(
        "Each depth is placed between the fixes before and after it, by its order in the log"
    )
    return out_lon, out_lat, out_time, has_date, near


def _fix_track(
    log: _Log, said: list[str]
) -> tuple[FloatArray, FloatArray, FloatArray, list[float | None]]:
    """Fixes without the repeats that several sentences of one second make."""
    kept: list[tuple[int, Fix]] = []
    for number, fix in log.fixes:
        same = (
            kept
            and fix.time_of_day_s is not None
            and kept[-1][1].time_of_day_s == fix.time_of_day_s
            and number - kept[-1][0] < 50
        )
        if not same:
            kept.append((number, fix))
    kept = _on_track(kept, log.tally)
    estimated = sum(fix.estimated for _, fix in kept)
    if estimated:
        said.append(f"{estimated:,} fixes are estimated or simulated, by the receiver's own word")
    said.append(f"{len(kept):,} fixes")
    line = np.array([number for number, _ in kept], dtype=np.float64)
    lon = np.array([fix.lon_deg for _, fix in kept])
    lat = np.array([fix.lat_deg for _, fix in kept])
    return line, lon, lat, [fix.time_of_day_s for _, fix in kept]


def _on_track(fixes: list[tuple[int, Fix]], tally: DropTally) -> list[tuple[int, Fix]]:
    """Fixes without those that jump away and back, before depths are placed between them."""
    lat = np.array([fix.lat_deg for _, fix in fixes])
    lon = np.array([fix.lon_deg for _, fix in fixes])
    east = (lon - lon[0] + 180.0) % 360.0 - 180.0
    bad = off_track(east * DEGREE_M * np.cos(np.radians(lat)), lat * DEGREE_M, None)
    for index in np.flatnonzero(bad):
        tally.add("stray fix, off the track and back at once", fixes[index][0])
    return [item for item, stray in zip(fixes, bad, strict=True) if not stray]


def _timeline(
    line: FloatArray, clock: list[float | None], log: _Log, said: list[str]
) -> tuple[FloatArray | None, bool]:
    """Times of the fixes, with midnight passed where the clock falls back by half a day."""
    if any(value is None for value in clock):
        said.append("Some fixes carry no time, so times are left out")
        return None, True
    tod = np.array(clock, dtype=np.float64)
    day = np.concatenate([[0.0], np.cumsum(np.diff(tod) < -DAY_S / 2.0)])
    time_s = tod + DAY_S * day
    if not log.dates:
        said.append("No sentence carries a date (RMC, ZDA), so times count from midnight UTC")
        return time_s, False
    first_line, first_day = log.dates[0]
    nearest = int(np.argmin(np.abs(line - first_line)))
    return time_s + (first_day - DAY_S * day[nearest]), True


def _usable(depth_m: FloatArray, near: BoolArray, at: FloatArray, tally: DropTally) -> BoolArray:
    """Which depths can be used; the others are counted."""
    keep = np.ones(depth_m.shape, dtype=bool)
    numbers = at.astype(np.int64)
    reasons: tuple[tuple[str, BoolArray], ...] = (
        (f"no fix within {MAX_FIX_GAP_S:.0f} s or {MAX_FIX_GAP_M:.0f} m", ~near),
        (f"deeper than any lake ({DEEPEST_LAKE_M:.0f} m)", depth_m > DEEPEST_LAKE_M),
        ("zero depth: the sounder had lost the bottom", depth_m <= 0.0),
    )
    for reason, bad in reasons:
        tally.add_mask(reason, bad & keep, numbers)
        keep &= ~bad
    return keep
