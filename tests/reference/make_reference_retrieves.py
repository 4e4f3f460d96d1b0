"""Draw 200 random retrieves, solve them slowly and freeze what came out.

    python tests/reference/make_reference_retrieves.py      writes reference_retrieves.json

Each is run on three meshes and extrapolated to none; the frozen error is how
far the finest mesh was from that. Half are run again over a flat bottom
shallower than the free-running depth.
"""

from __future__ import annotations

import json
import math
import multiprocessing
import sys
from pathlib import Path
from typing import Any

import numpy as np

HERE = Path(__file__).parent
sys.path.insert(0, str(HERE))

from slow_retrieve import Case, Leg, solve  # noqa: E402
from slow_retrieve import Path as LurePath  # noqa: E402

SEED, COUNT = 20_240_613, 200
MESHES = (48, 96, 192)
LINE_LEFT = (0.9, 0.75, 0.6, 0.45, 0.3, 0.15)  # parts of the line at which the depth is kept
ALONG = (0.1, 0.3, 0.5, 0.7, 0.9)  # parts of the contact at which the load is kept


def draw(number: int) -> dict[str, float]:
    """Inputs of one random retrieve, in SI units with degrees for the dive angle."""
    rng = np.random.default_rng([SEED, number])
    inputs = {
        "pull_area_m2": math.exp(rng.uniform(math.log(3e-4), math.log(40e-4))),
        "dive_angle_deg": rng.uniform(5.0, 45.0),
        "buoyancy_n": rng.uniform(0.0, 0.2),
        "mass_kg": rng.uniform(0.005, 0.040),
        "diameter_m": rng.uniform(0.15e-3, 0.45e-3),
        "density_kg_m3": rng.uniform(1000.0, 1780.0),
        "modulus_pa": math.exp(rng.uniform(math.log(2e9), math.log(20e9))),
        "cast_m": rng.uniform(10.0, 65.0),
        "tip_m": rng.uniform(-1.5, 3.0),
        "speed_m_s": rng.uniform(0.6, 2.5),
        "boat_m_s": rng.uniform(-0.3, 0.3) if number % 3 == 0 else 0.0,
    }
    part = rng.uniform(0.35, 0.9)
    if number % 2 == 0:
        inputs["bottom_part"] = part
    return {name: float(f"{value:.6g}") for name, value in inputs.items()}


def case_of(inputs: dict[str, float], bottom_m: float = math.inf) -> Case:
    """The case that `draw` described."""
    return Case(
        pull_area_m2=inputs["pull_area_m2"],
        dive_angle_rad=math.radians(inputs["dive_angle_deg"]),
        buoyancy_n=inputs["buoyancy_n"],
        mass_kg=inputs["mass_kg"],
        diameter_m=inputs["diameter_m"],
        density_kg_m3=inputs["density_kg_m3"],
        modulus_pa=inputs["modulus_pa"],
        cast_m=inputs["cast_m"],
        tip_m=inputs["tip_m"],
        legs=(Leg(math.inf, inputs["speed_m_s"]),),
        boat_m_s=inputs["boat_m_s"],
        bottom_m=bottom_m,
    )


def extrapolate(values: list[float]) -> tuple[float, float]:
    """Value without a mesh from three meshes, each twice as fine, and its error.

    The order is the observed one, held between 1 and 2.
    """
    coarse, middle, fine = values
    gain = middle - fine
    order = 2.0
    if gain != 0.0 and (coarse - middle) / gain > 0.0:
        order = min(max(math.log2((coarse - middle) / gain), 1.0), 2.0)
    best = fine - gain / (2.0**order - 1.0)
    return best, abs(best - fine)


def loads_at(path: LurePath, x_m: np.ndarray) -> np.ndarray:
    """N / pull at places along the bottom."""
    load = path.normal_n / np.maximum(path.pull_n, 1e-9)
    return np.interp(-x_m, -path.x_m, load)


def reference(number: int) -> dict[str, Any]:
    """Solve one retrieve on all meshes, free and over its bottom."""
    inputs = draw(number)
    free = [solve(case_of(inputs), mesh) for mesh in MESHES]
    depth, error = extrapolate([path.max_depth_m for path in free])
    full = float(free[-1].line_out_m[0])
    marks = [part * full for part in LINE_LEFT]
    kept = [
        extrapolate([float(np.interp(-m, -p.line_out_m, p.depth_m)) for p in free])[0]
        for m in marks
    ]
    made: dict[str, Any] = {
        "inputs": inputs,
        "max_depth_m": round(depth, 6),
        "max_depth_error_m": round(error, 6),
        "line_out_m": [round(m, 6) for m in marks],
        "depth_m": [round(d, 5) for d in kept],
    }
    if "bottom_part" not in inputs or depth * inputs["bottom_part"] < 0.3:
        return made
    bottom = round(depth * inputs["bottom_part"], 4)
    touched = [solve(case_of(inputs, bottom), mesh) for mesh in MESHES]
    length, length_error = extrapolate([path.contact_m for path in touched])
    fine = touched[-1]
    at = np.flatnonzero(fine.normal_n > 0.0)
    first, last = fine.x_m[at[0]], fine.x_m[at[-1]]
    places = first + np.array(ALONG) * (last - first)
    loads = [loads_at(path, places) for path in touched]
    made["contact"] = {
        "bottom_m": bottom,
        "length_m": round(length, 4),
        "length_error_m": round(length_error, 4),
        "x_m": [round(float(x), 4) for x in places],
        "load": [round(float(v), 5) for v in loads[-1]],
        "load_error": round(float(np.max(np.abs(loads[-1] - loads[-2]))), 5),
    }
    return made


def main() -> None:
    """Solve them all on two cores and write them."""
    with multiprocessing.Pool(2) as pool:
        made = pool.map(reference, range(COUNT), chunksize=4)
    frozen = {
        "made_by": "tests/reference/make_reference_retrieves.py",
        "seed": SEED,
        "meshes": MESHES,
        "retrieves": made,
    }
    text = json.dumps(frozen, indent=None, separators=(",", ":")).replace(
        '{"inputs"', '\n{"inputs"'
    )
    (HERE / "reference_retrieves.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
