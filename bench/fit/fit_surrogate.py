"""Fit the surrogate of the free retrieve to the solver and write its data file.

Inputs are drawn by a Sobol sequence over a box a little wider than the surrogate's range
and solved on a mesh finer than the usual one. Two small networks (tanh) learn

* ln(greatest depth / first guess), by Levenberg-Marquardt with weights that grow with the
  error, so that the worst case is what is fitted, and
* the path: chord angle and chord length against the first guess, as principal components.

Errors are measured on other draws on a finer mesh still, and stored with the data.

    python bench/fit/fit_surrogate.py --minutes 30 --draws 19
"""

from __future__ import annotations

import argparse
import math
import time
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import numpy.typing as npt
import scipy.optimize
from scipy.stats import qmc
from small_network import F32, Array, Network, levenberg_marquardt

from leadsman.hydro import retrieve_inputs as inputs
from leadsman.hydro import retrieve_kernel as solver
from leadsman.hydro.surrogate_groups import STATIONS, Groups, groups_of, station_parts

# name: lowest, highest, drawn in the logarithm; a margin beyond RANGE of the surrogate
BOX: dict[str, tuple[float, float, bool]] = {
    "delta": (math.radians(4.5), math.radians(50.0), False),
    "area": (2e-4, 50e-4, True),
    "mass": (0.004, 0.06, True),
    "buoyancy": (-0.08, 0.2, False),
    "trim": (0.0, 0.085, False),  # c / v^2
    "diameter": (0.12e-3, 0.5e-3, True),
    "density": (930.0, 1870.0, False),
    "modulus": (5e8, 3e11, True),
    "factor": (0.6, 2.0, True),
    "tangential": (0.0014, 0.03, True),
    "cast": (8.0, 76.0, True),
    "tip": (-0.1, 0.13, False),  # of the cast
    "speed": (0.5, 2.5, True),
    "boat": (-0.4, 0.4, False),
    "viscosity": (0.75e-6, 1.9e-6, True),  # over density
}
DENSITY = 998.2336  # [kg m-3] of water; only ratios to it matter
MARGIN = 0.02
DEPTH_FLOOR_M = 2.0  # errors count relative to the depth, or to this where it is shallower
TRAIN_MESH, TEST_MESH = (1.5, 0.7), (3.0, 0.33)
HIDDEN, PATH_HIDDEN, ANGLES, CHORDS = 28, 32, 8, 5


@dataclass
class Set:
    """Solved retrieves with their groups."""

    groups: Groups
    depth_m: Array
    angle_off: Array  # chord angle less the first guess, times the part of line left
    chord_off: Array  # chord over line left less 1, times the part of line left
    inside: npt.NDArray[np.bool_]  # in the surrogate's range, margin left off


def draw(power: int, seed: int) -> tuple[Array, Array, Array]:
    """Parameter vectors, tip heights and speeds of draws that lie in the range."""
    pars, tip, speed = at(qmc.Sobol(len(BOX), seed=seed).random_base2(power))
    inside = groups_of(pars, tip, speed, MARGIN).inside
    return pars[inside], tip[inside], speed[inside]


def at(unit: Array) -> tuple[Array, Array, Array]:
    """Parameter vectors, tip heights and speeds of points of the unit cube over the box."""
    p = {}
    for i, (name, (low, high, log)) in enumerate(BOX.items()):
        if log:
            p[name] = low * (high / low) ** unit[:, i]
        else:
            p[name] = low + (high - low) * unit[:, i]
    pars = np.zeros((unit.shape[0], solver.N_PAR))
    tip = p["tip"] * p["cast"]
    columns = {
        solver.DELTA: p["delta"],
        solver.PULL_AREA: p["area"],
        solver.MASS: p["mass"],
        solver.BUOYANCY: p["buoyancy"],
        solver.TRIM_LOSS: p["trim"] * p["speed"] ** 2,
        solver.DIAMETER: p["diameter"],
        solver.LINE_DENSITY: p["density"],
        solver.COMPLIANCE: 1.0 / (p["modulus"] * 0.25 * math.pi * p["diameter"] ** 2),
        solver.CN_FACTOR: p["factor"],
        solver.CT: p["tangential"],
        solver.CAST: p["cast"],
        solver.BOAT: p["boat"],
        solver.WATER_DENSITY: np.full(tip.size, DENSITY),
        solver.VISCOSITY: p["viscosity"] * DENSITY,
        solver.CAPACITY: np.ones(tip.size),
    }
    for column, values in columns.items():
        pars[:, column] = values
    return pars, tip, p["speed"]


def solve(pars: Array, tip: Array, speed: Array, mesh: tuple[float, float]) -> tuple[Array, Array]:
    """Paths (n, 256, 7) and summaries of free retrieves on a mesh."""
    n = tip.size
    pars = pars.copy()
    pars[:, solver.MESH], pars[:, solver.STEP_SCALE] = mesh
    scripts = np.zeros((n, solver.N_SCRIPT))
    scripts[:, solver.S_END] = inputs.FOREVER_S
    scripts[:, solver.S_SPEED] = speed
    scripts[:, solver.S_H0] = scripts[:, solver.S_H1] = tip
    rows, which = np.arange(n + 1), np.arange(n)
    paths, summary = np.empty((n, 256, 7)), np.empty((n, 6))
    common = (pars, scripts, rows, which, inputs.tables(), inputs.kinks(None), np.empty(0))
    solver.solve_many(0, 0, *common, paths, summary)
    with ThreadPoolExecutor(2) as pool:
        jobs = [
            pool.submit(solver.solve_many, a, min(a + 16, n), *common, paths, summary)
            for a in range(0, n, 16)
        ]
        for job in jobs:
            job.result()
    return paths, summary


def make_set(power: int, seed: int, mesh: tuple[float, float]) -> Set:
    """Draw, solve and bring to the stations."""
    pars, tip, speed = draw(power, seed)
    groups = groups_of(pars, tip, speed, MARGIN)
    parts = station_parts()
    n = tip.size
    depth = np.empty(n)
    angle, chord = np.empty((n, STATIONS)), np.empty((n, STATIONS))
    good = np.ones(n, dtype=bool)
    began = time.perf_counter()
    for a in range(0, n, 2000):
        rows = slice(a, min(a + 2000, n))
        paths, summary = solve(pars[rows], tip[rows], speed[rows], mesh)
        depth[rows] = summary[:, 0]
        good[rows] = np.isin(summary[:, 5], (solver.HOME, solver.PASSED))
        for k in range(paths.shape[0]):
            i = a + k
            path = paths[k]
            left = path[:, 3] / groups.line_m[i]
            order = np.argsort(left)
            reached = parts >= left.min() - 1e-9
            z = np.interp(parts, left[order], path[order, 2]) + tip[i]
            x = np.interp(parts, left[order], path[order, 1])
            start = 1.0 / (1.0 + groups.stretch[i])
            time_s = np.maximum(start - parts, 0.0) * groups.line_m[i] / speed[i]
            x -= pars[i, solver.BOAT] * time_s
            last = int(np.flatnonzero(reached)[-1])
            angle[i] = np.arctan2(z, x) - groups.angle_rad[i]
            chord[i] = np.hypot(z, x) / (parts * groups.line_m[i]) - 1.0
            angle[i, last + 1 :] = chord[i, last + 1 :] = np.nan
    print(f"{n} retrieves solved in {time.perf_counter() - began:.0f} s, {n - good.sum()} not")
    kept = Groups(
        groups.features[good], groups.angle_rad[good], groups.depth[good],
        groups.inside[good], groups.line_m[good], groups.stretch[good],
    )  # fmt: skip
    inside = groups_of(pars, tip, speed).inside[good]
    return Set(kept, depth[good], angle[good] * parts, chord[good] * parts, inside)


def fit_depth(
    net: Network, x: npt.NDArray[F32], train: Set, seconds: float, rng: np.random.Generator
) -> None:
    """Fit the depth, ever more to the draws that it gets wrong."""
    y = np.log(train.depth_m / (train.groups.depth * train.groups.line_m)).astype(F32)
    scale = np.minimum(1.0, train.depth_m / DEPTH_FLOOR_M)
    began = time.perf_counter()
    order = rng.permutation(len(x))
    for count, part in ((12_000, 0.1), (40_000, 0.2)):
        some = order[:count]
        levenberg_marquardt(net, x[some], y[some], scale[some] ** 2, 1e-2, part * seconds)
    while time.perf_counter() - began < seconds:
        error = np.abs(net.layers(x)[-1][:, 0] - y) * scale
        show("depth, training", error)
        some = np.unique(np.concatenate((order[:45_000], np.argsort(-error)[:20_000])))
        weight = scale[some] ** 2 * (1.0 + (error[some] / 0.002) ** 2)
        levenberg_marquardt(net, x[some], y[some], weight, 1e-4, 0.1 * seconds, 10)


def principal(curves: Array, count: int) -> tuple[Array, Array, Array]:
    """Mean, axes and scores of curves whose ends are missing; these are filled in as they fit."""
    missing = np.isnan(curves)
    mean = np.nanmean(curves, axis=0)
    full = np.where(missing, mean, curves)
    for _ in range(12):
        mean = full.mean(0)
        _, _, axes = np.linalg.svd(full[:20_000] - mean, full_matrices=False)
        axes = axes[:count]
        scores = (full - mean) @ axes.T
        full = np.where(missing, mean + scores @ axes, curves)
    return mean, axes, scores


def fit_path(
    net: Network, x: npt.NDArray[F32], y: npt.NDArray[F32], weight: npt.NDArray[F32], seconds: float
) -> None:
    """Fit many outputs by L-BFGS within a time."""
    began = time.perf_counter()

    def loss(vector: Array) -> tuple[float, Array]:
        net.load(vector)
        total, slopes = 0.0, np.zeros(vector.size)
        for a in range(0, len(x), 16_384):
            layers = net.layers(x[a : a + 16_384])
            back = layers[-1] - y[a : a + 16_384]
            total += float(np.sum(weight[a : a + 16_384] * back.astype(np.float64) ** 2))
            back = back * weight[a : a + 16_384]
            at = vector.size
            for layer in range(len(net.weights) - 1, -1, -1):
                wide, deep = net.weights[layer].shape
                slopes[at - deep : at] += back.sum(axis=0)
                at -= deep
                slopes[at - wide * deep : at] += (layers[layer].T @ back).ravel()
                at -= wide * deep
                back = back @ net.weights[layer].T.astype(F32) * (1.0 - layers[layer] ** 2)
        return 0.5 * total / len(x), slopes / len(x)

    def watch(_: Array) -> None:
        if time.perf_counter() - began > seconds:
            raise StopIteration

    scipy.optimize.minimize(
        loss, net.vector(), jac=True, method="L-BFGS-B", callback=watch,
        options={"maxiter": 100_000, "maxfun": 10**6, "maxcor": 40},
    )  # fmt: skip


def show(what: str, error: Array) -> None:
    """Print how an error is distributed."""
    levels = (50, 95, 99, 99.9, 100)
    values = np.percentile(error, levels)
    text = ", ".join(f"{p} %: {v:.3%}" for p, v in zip(levels, values, strict=True))
    print(f"{what} ({error.size}): {text}", flush=True)


def main() -> None:
    """Fit, measure and write."""
    here = Path(__file__).resolve().parents[2]
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--minutes", type=float, default=30.0, help="for the depth")
    parser.add_argument("--path-minutes", type=float, default=8.0, help="for the path")
    parser.add_argument(
        "--keep-depth", action="store_true", help="fit only the path anew, keep the rest of --out"
    )
    parser.add_argument("--draws", type=int, default=19, help="log2 of the draws")
    parser.add_argument("--out", type=Path, default=here / "src/leadsman/hydro/surrogate_data.npz")
    parser.add_argument(
        "--measure", action="store_true", help="only measure --out again, over the range as it is"
    )
    asked = parser.parse_args()
    if asked.measure:
        data = dict(np.load(asked.out))
        depth_net = Network([data["middle"].size, HIDDEN, HIDDEN, 1], np.random.default_rng(1))
        for layer in range(len(depth_net.weights)):
            depth_net.weights[layer] = data[f"depth_w{layer}"]
            depth_net.biases[layer] = data[f"depth_b{layer}"]
        measure(depth_net, make_set(asked.draws - 2, 77, TEST_MESH), data)
        write(asked.out, data)
        return
    rng = np.random.default_rng(1)
    train = make_set(asked.draws, 21, TRAIN_MESH)
    test = make_set(asked.draws - 2, 77, TEST_MESH)
    middle, spread = train.groups.features.mean(0), train.groups.features.std(0)
    before = dict(np.load(asked.out)) if asked.keep_depth else {}
    if before:
        middle, spread = before["middle"], before["spread"]
    x = ((train.groups.features - middle) / spread).astype(F32)

    data: dict[str, Array] = {"middle": middle, "spread": spread}
    angle_mean, angle_axes, angles = principal(train.angle_off, ANGLES)
    chord_mean, chord_axes, chords = principal(train.chord_off, CHORDS)
    goal = np.hstack((angles, chords))
    unit = goal.std()
    relative = np.maximum(train.depth_m / train.groups.line_m, 0.04)
    weight = ((0.2 / relative) ** 2).astype(F32)[:, None]
    path_net = Network([x.shape[1], PATH_HIDDEN, PATH_HIDDEN, ANGLES + CHORDS], rng)
    fit_path(path_net, x, (goal / unit).astype(F32), weight, 60.0 * asked.path_minutes)
    last = len(path_net.weights) - 1
    path_net.weights[last] = path_net.weights[last] * unit
    path_net.biases[last] = path_net.biases[last] * unit
    data |= {"angle_mean": angle_mean, "angle_axes": angle_axes}
    data |= {"chord_mean": chord_mean, "chord_axes": chord_axes}

    depth_net = Network([x.shape[1], HIDDEN, HIDDEN, 1], rng)
    if before:
        for layer in range(len(depth_net.weights)):
            depth_net.weights[layer] = before[f"depth_w{layer}"]
            depth_net.biases[layer] = before[f"depth_b{layer}"]
    else:
        fit_depth(depth_net, x, train, 60.0 * asked.minutes, rng)
    for name, net in (("depth", depth_net), ("path", path_net)):
        for layer, weight in enumerate(net.weights):
            data[f"{name}_w{layer}"] = weight
            data[f"{name}_b{layer}"] = net.biases[layer]

    measure(depth_net, test, data)
    write(asked.out, data)


def measure(net: Network, test: Set, data: dict[str, Array]) -> None:
    """Error of the greatest depth relative to it, printed and put into the data."""
    x = ((test.groups.features - data["middle"]) / data["spread"]).astype(F32)
    guess = np.exp(net.layers(x)[-1][:, 0]) * test.groups.depth * test.groups.line_m
    error = np.abs(guess / test.depth_m - 1.0)
    show("depth, test, with margin", error)
    show("depth, test, in range", error[test.inside])
    data["test_error"] = np.percentile(error[test.inside], (50, 95, 99, 99.9, 100))
    data["test_size"] = np.array([test.inside.sum()])


def write(out: Path, data: dict[str, Array]) -> None:
    """Write the data file."""
    np.savez_compressed(out, **{k: np.asarray(v, np.float64) for k, v in data.items()})
    print(f"{out.name}: {out.stat().st_size / 1e3:.0f} kB")


if __name__ == "__main__":
    main()
