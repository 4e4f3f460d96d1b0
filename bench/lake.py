"""How fast lakes are made, opened and sampled, side by side with a plain library way.

Run ``python bench/lake.py``. It prints, for each job, our time, the limit that the program
promises and, where there is one, the same job done by scipy alone.

It takes about a minute on an idle machine, most of it for the library. Peak memory is that of
a process, so the big jobs run one after the other in processes of their own.
"""

from __future__ import annotations

import json
import math
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import numpy as np

from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.lake.soundings import Soundings

SOUNDINGS = 1_000_000
PLACES = 1_000_000
AREA_HA = 4000.0
FRAME = MetricFrame(-91.0, 46.0)


def true_depth_m(x: np.ndarray, y: np.ndarray) -> np.ndarray:
    """An invented bottom: a basin with bars and ripples."""
    return np.clip(
        9.0 + 4.0 * np.sin(x / 420.0) * np.cos(y / 510.0) + 0.5 * np.sin(x / 37.0 + y / 53.0),
        0.5,
        None,
    )


def practice_days(count: int) -> Soundings:
    """Soundings in lines 10 m apart on 4 m steps, with noise, until there are enough."""
    side = math.sqrt(count * 40.0)
    x = np.repeat(np.arange(-side / 2, side / 2, 10.0), math.ceil(side / 4.0))
    y = np.tile(np.arange(math.ceil(side / 4.0)) * 4.0 - side / 2, x.size // math.ceil(side / 4.0))
    x, y = x[:count], y[:count]
    rng = np.random.default_rng(1)
    lon, lat = FRAME.to_lonlat(x + rng.normal(0.0, 1.0, x.size), y + rng.normal(0.0, 1.0, x.size))
    return Soundings(lon, lat, true_depth_m(x, y) + rng.normal(0.0, 0.1, x.size))


def peak_gib() -> float:
    """Most memory this process has held [GiB]."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024.0**2


def job_map() -> dict[str, float]:
    """One million soundings to a 5 m grid."""
    from leadsman.lake.sounding_surface import lattice_for_soundings, model_from_soundings

    few = practice_days(20_000)
    model_from_soundings([few], "warm", lattice_for_soundings([few], 5.0))  # compile first
    soundings = practice_days(SOUNDINGS)
    start, cpu = time.perf_counter(), time.process_time()
    model, check = model_from_soundings([soundings], "big", lattice_for_soundings([soundings], 5.0))
    seconds, cpu = time.perf_counter() - start, time.process_time() - cpu
    x, y = np.meshgrid(model.lattice.x_m, model.lattice.y_m)
    lon, lat = model.lattice.frame.to_lonlat(x, y)
    truth = true_depth_m(*FRAME.to_metric(lon, lat))
    error = (model.depth_m - truth)[np.isfinite(model.depth_m)]
    return {
        "count": float(len(soundings)),
        "seconds": seconds,
        "cpu_s": cpu,
        "gib": peak_gib(),
        "rmse_m": float(np.sqrt(np.mean(error**2))),
        "coverage_90": check.coverage_90,
        "area_ha": float(np.count_nonzero(np.isfinite(model.depth_m))) * 25.0 / 1e4,
    }


def job_library() -> dict[str, float]:
    """The same soundings by linear interpolation on a triangulation (scipy), no error stated."""
    from scipy.interpolate import LinearNDInterpolator

    from leadsman.lake.sounding_surface import lattice_for_soundings

    soundings = practice_days(SOUNDINGS)
    lattice = lattice_for_soundings([soundings], 5.0)
    start, cpu = time.perf_counter(), time.process_time()
    x, y = lattice.frame.to_metric(soundings.lon_deg, soundings.lat_deg)
    surface = LinearNDInterpolator(np.stack([x, y], axis=1), soundings.depth_m)
    gx, gy = np.meshgrid(lattice.x_m, lattice.y_m)
    grid = surface(gx, gy)
    seconds, cpu = time.perf_counter() - start, time.process_time() - cpu
    lon, lat = lattice.frame.to_lonlat(gx, gy)
    error = (grid - true_depth_m(*FRAME.to_metric(lon, lat)))[np.isfinite(grid)]
    return {
        "seconds": seconds, "cpu_s": cpu, "gib": peak_gib(),
        "rmse_m": float(np.sqrt(np.mean(error**2))),
    }  # fmt: skip


def job_open() -> dict[str, float]:
    """A lake of 4,000 ha at 5 m: opened by its name, and a million places sampled."""
    from dataclasses import replace

    from scipy.interpolate import RegularGridInterpolator

    from leadsman.usecases.lake_record import LakeRecord
    from leadsman.usecases.lake_store import open_lake, save_lake

    cells = int(math.sqrt(AREA_HA * 1e4) / 5.0)
    lattice = Lattice(FRAME, -2.5 * cells, -2.5 * cells, 5.0, cells, cells)
    x, y = np.meshgrid(lattice.x_m, lattice.y_m)
    depth = true_depth_m(x, y)
    depth[np.hypot(x, y) > 3.3 * cells] = np.nan
    se = np.where(np.isfinite(depth), 0.3 + 0.02 * np.nan_to_num(depth), np.nan)
    model = BottomModel("Big", lattice, depth.astype(np.float32), se.astype(np.float32))
    rng = np.random.default_rng(2)
    at_x, at_y = (rng.uniform(-2.4 * cells, 2.4 * cells, PLACES) for _ in range(2))
    with tempfile.TemporaryDirectory() as folder:
        record = LakeRecord("Big", "", None, "", (), None, False)
        save_lake(model, record, (), Path(folder))
        open_lake("Big", Path(folder))
        start = time.perf_counter()
        lake = open_lake("Big", Path(folder))
        opened = time.perf_counter() - start
        size = sum(path.stat().st_size for path in lake.folder.iterdir())
    start = time.perf_counter()
    found, _ = lake.model.sample(at_x, at_y)
    sampled = time.perf_counter() - start
    filled = replace(lake.model, depth_m=np.nan_to_num(lake.model.depth_m))
    axes = (lattice.y_m, lattice.x_m)
    start = time.perf_counter()
    for layer in (filled.depth_m, np.nan_to_num(lake.model.se_m)):
        plain = RegularGridInterpolator(axes, layer)(np.stack([at_y, at_x], axis=1))
    library = time.perf_counter() - start
    del plain
    return {
        "opened_s": opened, "sampled_s": sampled, "library_s": library, "mb": size / 1e6,
        "known": float(np.mean(np.isfinite(found))),
    }  # fmt: skip


JOBS = {"map": job_map, "library": job_library, "open": job_open}


def _alone(name: str) -> dict[str, float]:
    """Run one job in a process of its own, so that its peak memory is its own."""
    done = subprocess.run(
        [sys.executable, __file__, name], capture_output=True, text=True, check=True
    )
    found: dict[str, float] = json.loads(done.stdout.splitlines()[-1])
    return found


def main() -> None:
    """Run every job and print what came out beside what is promised."""
    print(
        f"Load of the machine {os.getloadavg()[0]:.1f} on {os.cpu_count()} cores: times below "
        "are of the clock, CPU times beside them"
    )
    ours, plain = _alone("map"), _alone("library")
    print(f"{ours['count']:,.0f} soundings to a 5 m grid ({ours['area_ha']:,.0f} ha)")
    for name, job in (("ours", ours), ("scipy", plain)):
        print(
            f"  {name:6} {job['seconds']:6.1f} s  CPU {job['cpu_s']:6.1f} s  {job['gib']:5.2f} GiB"
            f"  RMSE {job['rmse_m']:.3f} m"
        )
    print(
        f"  ratio of times {ours['seconds'] / plain['seconds']:.2f}, of errors "
        f"{ours['rmse_m'] / plain['rmse_m']:.2f}; 90 % band holds {ours['coverage_90']:.3f}"
    )
    print("  promised: under 20 s and 2 GiB:", _met(ours["seconds"] < 20.0 and ours["gib"] < 2.0))
    lake = _alone("open")
    print(f"{AREA_HA:,.0f} ha at 5 m, {lake['mb']:.1f} MB on disk, {PLACES:,} places")
    print(
        f"  opened {lake['opened_s']:.3f} s, sampled {lake['sampled_s']:.3f} s "
        f"(depth and error), scipy {lake['library_s']:.3f} s, ratio "
        f"{lake['sampled_s'] / lake['library_s']:.2f}"
    )
    both = lake["opened_s"] + lake["sampled_s"]
    print("  promised: opened under 0.3 s:", _met(lake["opened_s"] < 0.3))
    print(f"  promised: opened and sampled under 0.5 s ({both:.3f} s):", _met(both < 0.5))


def _met(yes: bool) -> str:
    return "met" if yes else "NOT met"


if __name__ == "__main__":
    if len(sys.argv) > 1:
        print(json.dumps(JOBS[sys.argv[1]]()))
    else:
        main()
