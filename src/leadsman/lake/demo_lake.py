"""An invented lake with a known bottom, and a sounder log of a practice day on it.

Quillfeather Lake is made up. It is placed at 45 N, 90 W, dry land, so that
nobody takes it for a real one. Its bottom is a formula, which makes it a truth
to test the mapping against. Run ``python -m leadsman.lake.demo_lake FOLDER``
to write the files that come with the package anew; they do not change unless
the seed or the formula does.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import numpy as np

from leadsman.dimensions import FOOT_M
from leadsman.lake.frame import MetricFrame
from leadsman.lake.nmea_sentence import checksum
from leadsman.lake.soundings import FloatArray

NAME = "Quillfeather Lake"
FRAME = MetricFrame(-90.0, 45.0)
SEED = 1802
GRASS_EDGE_M = 13.0 * FOOT_M
"""Depth at which the grass of this lake stops [m]."""
TRANSDUCER_M = 0.4
"""Depth of the transducer of the boat that made the log [m]."""
LOG_NAME = "practice-day.nmea"
EDGE_NAME = "edge-points.csv"

_HALF_LENGTH_M = 1060.0
_HALF_WIDTH_M = 455.0
_POINT_RAD = 1.25
_TURN_RAD = 4.05
_START_S = 1_751_366_400.0 + 3600.0 * 11.0
"""2025-07-01 11:00 UTC, six in the morning there [s since 1970]."""


def data_folder() -> Path:
    """Folder of the files that come with the package."""
    return Path(__file__).parent / "demo"


def shore_radius_m(angle_rad: FloatArray) -> FloatArray:
    """Distance of the shore from the middle of the lake, by direction.

    Parameters
    ----------
    angle_rad : ndarray
        Direction, counter-clockwise from east [rad].
    """
    c, s = np.cos(angle_rad), np.sin(angle_rad)
    ellipse = 1.0 / np.hypot(c / _HALF_LENGTH_M, s / _HALF_WIDTH_M)
    return np.asarray(
        ellipse * (1.0 + 0.04 * np.sin(3.0 * angle_rad + 0.7) + 0.02 * np.sin(7.0 * angle_rad)),
        dtype=np.float64,
    )


def flat_width_m(angle_rad: FloatArray) -> FloatArray:
    """Width of the flat between shore and drop: a point widens it, an inside turn narrows it.

    Parameters
    ----------
    angle_rad : ndarray
        Direction from the middle, counter-clockwise from east [rad].
    """

    def bump(at_rad: float, half_width_rad: float) -> FloatArray:
        apart = np.angle(np.exp(1j * (angle_rad - at_rad)))
        return np.asarray(np.exp(-((apart / half_width_rad) ** 2)), dtype=np.float64)

    wide = 105.0 + 30.0 * np.sin(2.0 * angle_rad + 1.0)
    return np.asarray(
        wide + 120.0 * bump(_POINT_RAD, 0.16) - 62.0 * bump(_TURN_RAD, 0.14), dtype=np.float64
    )


def true_depth_m(x_m: FloatArray, y_m: FloatArray) -> FloatArray:
    """Depth of the invented bottom; negative on land.

    Parameters
    ----------
    x_m, y_m : ndarray
        Metres east and north of the middle, in `FRAME` [m].

    Returns
    -------
    ndarray
        Depth below the surface [m].
    """
    angle = np.arctan2(y_m, x_m)
    radius = np.hypot(x_m, y_m)
    shore = shore_radius_m(angle) - radius
    # Along the ends of the ellipse a radial distance is a true one; along its sides too.
    drop = shore - flat_width_m(angle)
    flat = 3.0 * (1.0 - np.exp(-shore / 28.0)) + 0.0015 * shore
    edge = 4.6 / (1.0 + np.exp(-(drop - 14.0) / 8.0))
    basin = 5.5 * (1.0 - np.exp(-np.maximum(shore - 125.0, 0.0) / 160.0))
    hump = -3.6 * np.exp(-(((x_m + 330.0) / 45.0) ** 2 + ((y_m - 40.0) / 30.0) ** 2))
    swell = 0.10 * np.sin(x_m / 37.0 + 0.5) * np.sin(y_m / 29.0) + 0.06 * np.sin((x_m + y_m) / 15.0)
    rough = swell * np.clip(shore / 40.0, 0.0, 1.0)
    return np.asarray(np.where(shore > 0.0, flat + edge + basin + hump + rough, 0.03 * shore))


def contour_radius_m(angle_rad: FloatArray, depth_m: float) -> FloatArray:
    """Distance from the middle at which the bottom first reaches a depth, coming from the shore.

    Parameters
    ----------
    angle_rad : ndarray, shape (n,)
        Directions, counter-clockwise from east [rad].
    depth_m : float
        The depth [m].
    """
    shore = shore_radius_m(angle_rad)
    steps = np.arange(0.0, 400.0, 0.5)
    radius = shore[:, None] - steps[None, :]
    angle = angle_rad[:, None]
    depth = true_depth_m(radius * np.cos(angle), radius * np.sin(angle))
    first = np.argmax(depth >= depth_m, axis=1)
    return np.asarray(shore - steps[first], dtype=np.float64)


def _track() -> tuple[FloatArray, FloatArray]:
    """Where the boat went: across the lake in lines, then a zigzag along the edge."""
    corners: list[tuple[float, float]] = []
    for index, x in enumerate(np.arange(-930.0, 931.0, 124.0)):
        ys = np.linspace(-520.0, 520.0, 1041)
        inside = ys[true_depth_m(np.full(ys.shape, x), ys) > 1.0]
        ends = (float(inside[0]), float(inside[-1]))
        corners += [(float(x), y) for y in (ends if index % 2 == 0 else ends[::-1])]
    angle = np.linspace(2.6, 2.6 + 2.0 * np.pi, 190)
    # 40 m either side of the edge, but never onto the beach.
    radius = contour_radius_m(angle, GRASS_EDGE_M) + np.where(np.arange(190) % 2, 34.0, -34.0)
    radius = np.minimum(radius, contour_radius_m(angle, 1.0))
    corners += list(zip(radius * np.cos(angle), radius * np.sin(angle), strict=True))
    x, y = np.array(corners).T
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    at = np.arange(0.0, along[-1], 7.0)
    return np.interp(at, along, x), np.interp(at, along, y)


def _angle_text(value_deg: float, width: int, letters: str) -> str:
    size = abs(value_deg)
    whole = int(size)
    minutes = (size - whole) * 60.0
    if minutes >= 59.99995:
        whole, minutes = whole + 1, 0.0
    return f"{whole:0{width}d}{minutes:07.4f},{letters[0] if value_deg >= 0.0 else letters[1]}"


def _signed(body: str, spoil: bool = False) -> str:
    return f"${body}*{checksum(body) ^ (0x15 if spoil else 0):02X}"


def sounder_log_lines(seed: int = SEED) -> Iterator[str]:
    """Lines of an NMEA 0183 log with the faults that real ones have.

    Parameters
    ----------
    seed : int
        Of the noise [-].
    """
    rng = np.random.default_rng(seed)
    x, y = _track()
    n = x.size
    depth = true_depth_m(x, y) + rng.normal(0.0, 0.07, n)
    lon, lat = FRAME.to_lonlat(x + rng.normal(0.0, 1.2, n), y + rng.normal(0.0, 1.2, n))
    lon, lat = lon.copy(), lat.copy()
    picks = rng.permutation(np.arange(20, n - 20))
    picks = picks[np.argsort(picks % 7, kind="stable")]
    spikes, lost, spoiled, unfixed, stray = np.split(picks[:38], [14, 22, 31, 36])
    depth[spikes[:7]] *= 2.0
    depth[spikes[7:]] = np.where(depth[spikes[7:]] > 4.0, 0.7, depth[spikes[7:]] + 9.0)
    lon[stray] += 0.02
    lat[stray] += 0.008
    for index in range(n):
        seconds = _START_S + 3.0 * index
        stamp = np.datetime64(int(seconds), "s").item()
        fix = f"{_angle_text(float(lat[index]), 2, 'NS')},{_angle_text(float(lon[index]), 3, 'EW')}"
        status = "V" if index in unfixed else "A"
        mode = "N" if status == "V" else "A"
        yield _signed(f"GPRMC,{stamp:%H%M%S},{status},{fix},4.5,,{stamp:%d%m%y},,,{mode}")
        below = "" if index in lost else f"{max(float(depth[index]) - TRANSDUCER_M, 0.1):.2f}"
        yield _signed(f"SDDPT,{below},{TRANSDUCER_M:.1f}", spoil=index in spoiled)


def edge_point_rows(seed: int = SEED) -> Iterator[str]:
    """Rows of a table of places where the angler saw the grass stop.

    Parameters
    ----------
    seed : int
        Of the noise [-].
    """
    rng = np.random.default_rng(seed + 1)
    angle = np.sort(rng.uniform(0.0, 2.0 * np.pi, 28))
    # Grass stops at a slightly different depth from place to place.
    target = GRASS_EDGE_M + rng.normal(0.0, 0.22, angle.size)
    radius = np.array(
        [contour_radius_m(np.array([a]), float(d))[0] for a, d in zip(angle, target, strict=True)]
    )
    x, y = radius * np.cos(angle), radius * np.sin(angle)
    lon, lat = FRAME.to_lonlat(x + rng.normal(0.0, 2.0, x.size), y + rng.normal(0.0, 2.0, x.size))
    depth = true_depth_m(x, y) + rng.normal(0.0, 0.1, x.size)
    yield "lat,lon,depth_ft"
    for row in zip(lat, lon, depth / FOOT_M, strict=True):
        yield f"{row[0]:.6f},{row[1]:.6f},{row[2]:.1f}"


def write_demo_files(folder: Path) -> tuple[Path, Path]:
    """Write the log and the edge points.

    Parameters
    ----------
    folder : pathlib.Path
        Where to [-].

    Returns
    -------
    tuple of pathlib.Path
        The log and the table.
    """
    folder.mkdir(parents=True, exist_ok=True)
    log, edge = folder / LOG_NAME, folder / EDGE_NAME
    log.write_bytes(("\r\n".join(sounder_log_lines()) + "\r\n").encode("ascii"))
    edge.write_bytes(("\n".join(edge_point_rows()) + "\n").encode("ascii"))
    return log, edge


if __name__ == "__main__":
    write_demo_files(Path(sys.argv[1]) if len(sys.argv) > 1 else data_folder())
