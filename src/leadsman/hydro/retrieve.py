"""Retrieve a lure: its running depth, pull and contact, one cast or many at once."""

from __future__ import annotations

import math
import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
import numpy.typing as npt

from leadsman.errors import SolverError, TechniqueError
from leadsman.hydro import retrieve_inputs as inputs
from leadsman.hydro import retrieve_kernel as kernel
from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.path_batch import PathBatch
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.technique import Technique
from leadsman.water import Water

FloatArray = npt.NDArray[np.float64]

CHUNK = 8
"""Retrieves that one thread takes at a time [-]."""

Item = TypeVar("Item")

_STATUS = {
    kernel.HOME: "home",
    kernel.AGROUND: "aground",
    kernel.PASSED: "under the tip",
    kernel.STUCK: "stuck",
}
_GROUNDED = (kernel.AGROUND, kernel.STUCK)


@dataclass(frozen=True, slots=True)
class RetrieveBatch:
    """Many retrieves side by side, each sampled at the same number of places.

    Parameters
    ----------
    t_s : ndarray, shape (b, n)
        Time since each retrieve started [s].
    x_m : ndarray, shape (b, n)
        Horizontal position of the lure [m].
    depth_m : ndarray, shape (b, n)
        Depth of the lure [m].
    line_out_m : ndarray, shape (b, n)
        Unstretched line between tip and lure [m].
    pull_n : ndarray, shape (b, n)
        Line tension at the lure [N].
    tip_pull_n : ndarray, shape (b, n)
        Line tension at the tip [N].
    normal_force_n : ndarray, shape (b, n)
        Force of the bottom on the lure, 0 where it runs free [N].
    max_depth_m : ndarray, shape (b,)
        Greatest depth, of the solver's own samples [m].
    contact_m : ndarray, shape (b,)
        Horizontal metres on the bottom, from the solver's own steps [m].
    first_contact_x_m : ndarray, shape (b,)
        Where the lure first touches; nan if it never does [m].
    first_contact_s : ndarray, shape (b,)
        When the lure first touches; nan if it never does [s].
    line_touches : ndarray of bool, shape (b,)
        Whether the line itself touched the bottom [-].
    grounded : ndarray of bool, shape (b,)
        Whether the retrieve ended where there is no water, or against a wall [-].
    solved : ndarray of bool, shape (b,)
        False where the solver gave up, whose path then ends early [-].
    """

    t_s: FloatArray
    x_m: FloatArray
    depth_m: FloatArray
    line_out_m: FloatArray
    pull_n: FloatArray
    tip_pull_n: FloatArray
    normal_force_n: FloatArray
    max_depth_m: FloatArray
    contact_m: FloatArray
    first_contact_x_m: FloatArray
    first_contact_s: FloatArray
    line_touches: npt.NDArray[np.bool_]
    grounded: npt.NDArray[np.bool_]
    solved: npt.NDArray[np.bool_]

    def __len__(self) -> int:
        return int(self.x_m.shape[0])

    @property
    def load(self) -> FloatArray:
        """Contact load, normal force over pull at the lure, at most 10, shape (b, n) [-]."""
        return np.minimum(self.normal_force_n / np.maximum(self.pull_n, 1e-9), 10.0)

    @property
    def paths(self) -> PathBatch:
        """The paths alone, as the measures of zone and grass take them."""
        return PathBatch(
            t_s=self.t_s,
            x_m=self.x_m,
            depth_m=self.depth_m,
            line_out_m=self.line_out_m,
            pull_n=self.pull_n,
            load=self.load,
            line_touches=self.line_touches,
            solved=self.solved,
        )

    @property
    def depth_to_deepest_m(self) -> FloatArray:
        """Depths whose deepest sample stands at the solver's own greatest, shape (b, n) [m]."""
        depth = self.depth_m.copy()
        depth[np.arange(len(self)), depth.argmax(axis=1)] = self.max_depth_m
        return depth


def retrieve(
    lure: LureForces,
    line: LineProperties,
    technique: Technique,
    bottom: BottomProfile | None = None,
    water: Water | None = None,
    drag: DragLaw | None = None,
) -> Retrieve:
    """Path, pull and contact of a lure through one retrieve.

    Parameters
    ----------
    lure : LureForces
        The lure [-].
    line : LineProperties
        The line [-].
    technique : Technique
        Cast, rod tip, script and boat [-].
    bottom : BottomProfile or None
        What lies under the cast; None for deep water. Grass on it is not felt [-].
    water : Water or None
        The water; None for fresh water at 20 degC [-].
    drag : DragLaw or None
        Drag of the line; None for the published fit [-].

    Returns
    -------
    Retrieve
        Samples at most 0.5 m apart horizontally. It ends when the line left is under
        max(1.05 |tip height|, 0.5 m), when the lure is under the tip or lies at the surface
        under a line steeper than 45 degrees, and (`grounded`) where the bottom meets the
        surface or a wall holds the lure against more than any line bears.

    Raises
    ------
    TechniqueError
        The equations could not be solved for tackle far out of the usual.
    SolverError
        They could not be solved for usual tackle: a fault.

    Notes
    -----
    Starts with the lure at the surface and the line straight, pre-tensioned at
    ``1/2 rho S_D v_r^2`` and moving at reel speed along itself. Drag is per unstretched metre.
    """
    par = inputs.parameters(lure, line, technique, bottom, water or Water(), drag or DragLaw())
    kinks = inputs.kinks(bottom)
    rec = np.empty((kernel.MAX_REC, kernel.N_REC))
    count, status, touches = kernel.solve(
        par, inputs.script(technique), inputs.tables(), kinks, rec
    )
    if status not in _STATUS:
        raise _unsolved(lure, line, technique, float(rec[count - 1, kernel.R_T]))
    out = np.empty((8 * count + 400, 7))
    n = kernel.sample(rec, count, kernel.SAMPLE_SPACING_M, kinks, out)
    columns = np.ascontiguousarray(out[:n].T)
    return Retrieve(
        t_s=columns[0],
        x_m=columns[1],
        depth_m=columns[2],
        line_out_m=columns[3],
        pull_n=columns[4],
        tip_pull_n=columns[5],
        normal_force_n=columns[6],
        line_touches=bool(touches),
        grounded=status in _GROUNDED,
    )


def retrieve_batch(
    lures: LureForces | Sequence[LureForces],
    lines: LineProperties | Sequence[LineProperties],
    techniques: Technique | Sequence[Technique],
    bottom: BottomProfile | None = None,
    water: Water | None = None,
    drags: DragLaw | Sequence[DragLaw] | None = None,
    *,
    samples: int = 128,
    at_x_m: FloatArray | None = None,
    threads: int | None = None,
) -> RetrieveBatch:
    """Many retrieves over one bottom, on all cores.

    Each of `lures`, `lines`, `techniques` and `drags` is one for all, or one for each.

    Parameters
    ----------
    lures : LureForces or sequence of LureForces
        The lures [-].
    lines : LineProperties or sequence of LineProperties
        The lines [-].
    techniques : Technique or sequence of Technique
        How each cast is fished [-].
    bottom : BottomProfile or None
        What lies under the casts [-].
    water : Water or None
        The water; None for fresh water at 20 degC [-].
    drags : DragLaw or sequence of DragLaw or None
        Drag of the line; None for the published fit [-].
    samples : int
        Places along each path, evenly spaced along it, stops included [-].
    at_x_m : ndarray, shape (n,), or None
        Instead: the distances at which each path is sampled as the lure first comes by,
        in falling or rising order; beyond the ends of a path its end samples stand [m].
    threads : int or None
        Threads to use; None for one on each core [-].

    Returns
    -------
    RetrieveBatch
        One row for each retrieve; with `at_x_m` samples run in falling x.

    Raises
    ------
    TechniqueError
        The sequences differ in length, or there are fewer than two samples.

    Notes
    -----
    Threads run one compiled kernel that holds no interpreter lock, in small chunks. That
    balances better than a compiled parallel loop, compiles once, and may be called from
    several threads at once.
    """
    water = water or Water()
    size = _batch_size(lures, lines, techniques, drags)
    lure_of = _spread(lures, size)
    line_of = _spread(lines, size)
    technique_of = _spread(techniques, size)
    drag_of = _spread(drags or DragLaw(), size)
    pars = np.empty((size, kernel.N_PAR))
    for i in range(size):
        pars[i] = inputs.parameters(
            lure_of[i], line_of[i], technique_of[i], bottom, water, drag_of[i]
        )
    scripts, rows, which = inputs.pack_scripts(technique_of)
    stations = np.empty(0)
    if at_x_m is not None:
        stations = np.sort(np.asarray(at_x_m, dtype=np.float64).ravel())[::-1].copy()
        samples = stations.size
    if samples < 2:
        raise TechniqueError("a path needs at least two samples", "samples")
    paths = np.empty((size, samples, 7))
    summary = np.empty((size, 6))
    kinks = inputs.kinks(bottom)

    def work(first: int, last: int) -> None:
        kernel.solve_many(
            first,
            last,
            pars,
            scripts,
            rows,
            which,
            inputs.tables(),
            kinks,
            stations,
            paths,
            summary,
        )

    _run(size, threads, work)
    return _as_batch(paths, summary)


def warm_up() -> None:
    """Compile or load every kernel of this module, so that the next call is fast."""
    lure = LureForces(math.radians(25.0), 20e-4)
    line = LineProperties(0.3e-3, 1140.0, 3e9)
    technique = Technique.steady(6.0, 0.5, 1.3)
    retrieve(lure, line, technique, BottomProfile.flat(1.0))
    retrieve_batch([lure], line, technique, threads=1)


def _unsolved(
    lure: LureForces, line: LineProperties, technique: Technique, at_s: float
) -> SolverError | TechniqueError:
    """The user's mistake where the setup is no tackle anyone fishes, else a fault of ours."""
    usual = (
        lure.pull_area_m2 >= 0.3e-4
        and 0.5e-3 <= lure.mass_kg <= 0.2
        and abs(lure.buoyancy_n) <= 0.4
        and line.diameter_m <= 1e-3
        and 900.0 <= line.density_kg_m3 <= 1800.0
        and 2.0 <= technique.cast_m <= 120.0
    )
    if usual:
        return SolverError(f"the retrieve could not be solved beyond {at_s:.3g} s")
    return TechniqueError(
        f"this lure on this line cannot be computed beyond {at_s:.3g} s of the retrieve",
        "retrieve",
        "Stay within lures of 0.5 to 200 g with a pull area over 0.3 cm2, lines up to 1 mm of 900 "
        "to 1800 kg/m3 and casts of 2 to 120 m",
    )


def _run(size: int, threads: int | None, work: Callable[[int, int], None]) -> None:
    workers = threads if threads is not None else (os.cpu_count() or 1)
    if workers <= 1 or size <= CHUNK:
        work(0, size)
        return
    work(0, 0)  # compiled or loaded once, before the threads start
    firsts = range(0, size, CHUNK)
    with ThreadPoolExecutor(workers) as pool:
        for done in [pool.submit(work, a, min(a + CHUNK, size)) for a in firsts]:
            done.result()


def _as_batch(paths: FloatArray, summary: FloatArray) -> RetrieveBatch:
    status = summary[:, 5].astype(np.int64)
    return RetrieveBatch(
        t_s=paths[:, :, 0],
        x_m=paths[:, :, 1],
        depth_m=paths[:, :, 2],
        line_out_m=paths[:, :, 3],
        pull_n=paths[:, :, 4],
        tip_pull_n=paths[:, :, 5],
        normal_force_n=paths[:, :, 6],
        max_depth_m=summary[:, 0],
        contact_m=summary[:, 1],
        first_contact_x_m=summary[:, 2],
        first_contact_s=summary[:, 3],
        line_touches=summary[:, 4] > 0.0,
        grounded=np.isin(status, _GROUNDED),
        solved=np.isin(status, list(_STATUS)),
    )


def _batch_size(*given: object) -> int:
    lengths = {len(item) for item in given if isinstance(item, Sequence)}
    if len(lengths) > 1:
        raise TechniqueError(f"sequences of a batch differ in length: {sorted(lengths)}", "batch")
    size = lengths.pop() if lengths else 1
    if size == 0:
        raise TechniqueError("there is nothing to retrieve", "batch")
    return size


def _spread(given: Item | Sequence[Item], size: int) -> Sequence[Item]:
    return given if isinstance(given, Sequence) else [given] * size
