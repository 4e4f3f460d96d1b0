"""What to spool and what to tie on each rod before launch.

Every rod gets one line and one lure, and a few more lures that can be snapped
on. For each thing the day may ask (a depth in a cover) the best of what is
rigged is taken up: the lure that is tied on, or one that is snapped on at the
cost of the time it takes. Chosen so that the chance-weighted zone length is
greatest: a facility location problem, solved exactly as a mixed-integer linear
program by HiGHS through `scipy.optimize.milp`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from leadsman.errors import PlanError

if TYPE_CHECKING:
    from scipy.optimize import LinearConstraint
    from scipy.sparse import csr_array

FloatArray = npt.NDArray[np.float64]
BoolArray = npt.NDArray[np.bool_]

SECONDS = 5.0
"""Time given to the exact solver before its best so far is taken [s]."""

NO_LINE = -1

RESPOOL_M = 0.25
"""Zone length a cast that a change of line must earn [m]. Own choice: it costs line and an
evening's quarter of an hour."""

SNAP_SHARE = 0.10
"""Zone lost by having to snap a lure on [-]. Own choice: a change takes about as long as a
cast, and a depth is fished for some ten."""


@dataclass(frozen=True, slots=True)
class RigProblem:
    """What could be rigged and what it would be worth.

    Parameters
    ----------
    zone_m : ndarray, shape (rods, lines, lures, targets)
        Expected clean zone length of a cast with that lure on that line and
        rod over that target; 0 where the rod does not throw the lure, the reel
        does not hold the line or the cover asks for stronger tackle [m].
    chance : ndarray, shape (targets,)
        Chance that the day asks for the target; adds up to at most 1 [-].
    spooled : tuple of int
        Line on each rod now, `NO_LINE` for none [-].
    rods_used : int
        How many rods may be rigged [-].
    snaps : int
        Lures besides the tied one that a rod may be given [-].
    respool_m : float
        Zone length that a change of line must earn, a cast [m].
    snap_share : float
        Share of the zone length lost by having to snap a lure on [-].
    may_fish : ndarray of bool, shape (rods, lines, lures), or None
        Whether the lure may be put on that rod and line at all; None allows
        it where it has zone over any target [-].

    Raises
    ------
    PlanError
        Shapes do not fit, or a number is outside its range.
    """

    zone_m: FloatArray
    chance: FloatArray
    spooled: tuple[int, ...]
    rods_used: int
    snaps: int = 1
    respool_m: float = RESPOOL_M
    snap_share: float = SNAP_SHARE
    may_fish: BoolArray | None = None

    def __post_init__(self) -> None:
        if self.zone_m.ndim != 4 or self.zone_m.shape[3] != self.chance.size:
            raise PlanError("needs one zone for each rod, line, lure and target", "rig")
        if not np.all(np.isfinite(self.zone_m)) or np.any(self.zone_m < 0.0):
            raise PlanError("a zone length is negative or not a number", "rig")
        if np.any(self.chance < 0.0) or float(np.sum(self.chance)) > 1.0 + 1e-9:
            raise PlanError("chances must be positive and add up to at most 1", "rig")
        if len(self.spooled) != self.zone_m.shape[0]:
            raise PlanError("needs the line on each rod", "rig")
        if self.rods_used < 1:
            raise PlanError("there is no rod to rig", "--rods", "Give at least one rod")
        if not 0 <= self.snaps <= 20:
            raise PlanError("snap changes per rod are 0 to 20", "--snaps")
        if not (self.respool_m >= 0.0 and 0.0 <= self.snap_share < 1.0):
            raise PlanError("a cost of changing is out of range", "rig")

    @property
    def allowed(self) -> BoolArray:
        """Whether a lure may go on a rod and line, shape (rods, lines, lures)."""
        useful: BoolArray = np.any(self.zone_m > 0.0, axis=3)
        return useful if self.may_fish is None else np.logical_and(useful, self.may_fish)


@dataclass(frozen=True, slots=True)
class RiggedRod:
    """One rod ready to fish.

    Parameters
    ----------
    rod, line, tied : int
        Indices of rod, line and lure tied on [-].
    snaps : tuple of int
        Lures to snap on [-].
    """

    rod: int
    line: int
    tied: int
    snaps: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Rig:
    """The rods as rigged and what they are worth.

    Parameters
    ----------
    rods : tuple of RiggedRod
        In the order of the rods [-].
    worth_m : float
        Chance-weighted zone length of a cast, less what respooling costs [m].
    bound_m : float
        No rig is worth more [m].
    proved : bool
        Whether this one is proved best [-].
    best_zone_m : ndarray, shape (targets,)
        Zone over each target with the best of what is rigged [m].
    taken_up : tuple of (int, int)
        Rod (place in `rods`) and lure for each target; (-1, -1) where
        nothing rigged has any zone [-].
    """

    rods: tuple[RiggedRod, ...]
    worth_m: float
    bound_m: float
    proved: bool
    best_zone_m: FloatArray
    taken_up: tuple[tuple[int, int], ...]


def worth_of(problem: RigProblem, rods: tuple[RiggedRod, ...]) -> Rig:
    """Value of a given rig, by looking up the best lure for every target.

    Parameters
    ----------
    problem : RigProblem
        The problem [-].
    rods : tuple of RiggedRod
        A rig [-].
    """
    targets = problem.chance.size
    best = np.zeros(targets)
    taken: list[tuple[int, int]] = [(-1, -1)] * targets
    cost = 0.0
    for place, item in enumerate(rods):
        if problem.spooled[item.rod] != item.line:
            cost += problem.respool_m
        for lure in (item.tied, *item.snaps):
            share = 1.0 if lure == item.tied else 1.0 - problem.snap_share
            zone = share * problem.zone_m[item.rod, item.line, lure]
            for target in np.flatnonzero(zone > best + 1e-12):
                best[target] = zone[target]
                taken[target] = (place, lure)
    worth = float(problem.chance @ best) - cost
    return Rig(rods, worth, worth, False, best, tuple(taken))


def greedy_rig(problem: RigProblem) -> Rig:
    """Add one lure at a time, always the one that gains most.

    The fallback where the exact solver is stopped, and the yardstick of what
    exactness buys.

    Parameters
    ----------
    problem : RigProblem
        The problem [-].
    """
    rods: tuple[RiggedRod, ...] = ()
    now = worth_of(problem, rods)
    while True:
        tried = [worth_of(problem, option) for option in _additions(problem, rods)]
        if not tried:
            return now
        best = max(tried, key=lambda rig: rig.worth_m)
        if best.worth_m <= now.worth_m + 1e-12:
            return now
        rods, now = best.rods, best


def _additions(problem: RigProblem, rods: tuple[RiggedRod, ...]) -> list[tuple[RiggedRod, ...]]:
    allowed = problem.allowed
    used = {lure for item in rods for lure in (item.tied, *item.snaps)}
    rigged = {item.rod for item in rods}
    options: list[tuple[RiggedRod, ...]] = []
    for rod, line, lure in np.argwhere(allowed).tolist():
        if lure in used:
            continue
        if rod not in rigged:
            if len(rods) < problem.rods_used:
                options.append((*rods, RiggedRod(rod, line, lure)))
            continue
        place = next(n for n, item in enumerate(rods) if item.rod == rod)
        item = rods[place]
        if item.line == line and len(item.snaps) < problem.snaps:
            grown = RiggedRod(rod, line, item.tied, (*item.snaps, lure))
            options.append((*rods[:place], grown, *rods[place + 1 :]))
    return options


def best_rig(problem: RigProblem, seconds: float = SECONDS) -> Rig:
    """The rig that is worth most, proved where the time allows.

    Parameters
    ----------
    problem : RigProblem
        The problem [-].
    seconds : float
        Time limit of the exact solver [s].

    Returns
    -------
    Rig
        The best rig found, with a bound on any other.

    Raises
    ------
    PlanError
        Nothing that may be rigged has any zone over any target.
    """
    if not np.any(problem.allowed):
        raise PlanError(
            "nothing in the kit has any zone over what the day may ask",
            "rig",
            "Add a lure that reaches, or rods and lines that may be used there",
        )
    greedy = greedy_rig(problem)
    # a solver stopped early may not have a bound worth the name yet; this one always holds
    ceiling = float(problem.chance @ problem.zone_m.max(axis=(0, 1, 2)))
    solved = _solve(problem, seconds)
    if solved is None:
        return Rig(greedy.rods, greedy.worth_m, ceiling, False, greedy.best_zone_m, greedy.taken_up)
    rods, bound, proved = solved
    found = worth_of(problem, rods)
    if greedy.worth_m > found.worth_m + 1e-9:
        found, proved = greedy, False
    bound = found.worth_m if proved else max(min(bound, ceiling), found.worth_m)
    return Rig(found.rods, found.worth_m, bound, proved, found.best_zone_m, found.taken_up)


@dataclass(frozen=True, slots=True)
class _Columns:
    """Numbering of the variables of the program.

    `put` is shape (combinations, 2): lure tied (0) or snapped on (1) for each
    allowed (rod, line, lure). `spool` is shape (rods, lines). `use` lists the
    (put, target) pairs with any zone.
    """

    combos: npt.NDArray[np.int64]
    use: npt.NDArray[np.int64]
    gain: FloatArray
    rods: int
    lines: int

    @property
    def puts(self) -> int:
        return 2 * len(self.combos)

    @property
    def size(self) -> int:
        return self.puts + self.rods * self.lines + len(self.use)


def _columns(problem: RigProblem) -> _Columns:
    combos = np.argwhere(problem.allowed)
    zone = problem.zone_m[combos[:, 0], combos[:, 1], combos[:, 2]] * problem.chance
    both = np.stack((zone, (1.0 - problem.snap_share) * zone), axis=1).reshape(-1, zone.shape[1])
    use = np.argwhere(both > 0.0)
    rods, lines = problem.zone_m.shape[:2]
    return _Columns(combos, use, both[use[:, 0], use[:, 1]], rods, lines)


def _solve(problem: RigProblem, seconds: float) -> tuple[tuple[RiggedRod, ...], float, bool] | None:
    from scipy.optimize import Bounds, milp

    columns = _columns(problem)
    cost = np.zeros(columns.size)
    spool_at = columns.puts
    use_at = spool_at + columns.rods * columns.lines
    respool = np.full((columns.rods, columns.lines), problem.respool_m)
    for rod, line in enumerate(problem.spooled):
        if line != NO_LINE:
            respool[rod, line] = 0.0
    cost[spool_at:use_at] = respool.reshape(-1)
    cost[use_at:] = -columns.gain
    integral = np.zeros(columns.size, dtype=np.int64)
    integral[:use_at] = 1
    found = milp(
        cost,
        constraints=_constraints(problem, columns),
        bounds=Bounds(0.0, 1.0),
        integrality=integral,
        options={"time_limit": seconds, "mip_rel_gap": 1e-9},
    )
    if found.x is None:
        return None
    put = found.x[: columns.puts].reshape(-1, 2) > 0.5
    bound = -float(found.mip_dual_bound) if found.mip_dual_bound is not None else -float(found.fun)
    return _read(columns, put), bound, bool(found.status == 0)


def _constraints(problem: RigProblem, columns: _Columns) -> list[LinearConstraint]:
    from scipy.optimize import LinearConstraint
    from scipy.sparse import coo_array

    count, size = len(columns.combos), columns.size
    rod, line, lure = columns.combos.T
    combo = np.arange(count)
    spool = columns.puts + rod * columns.lines + line
    use_at = columns.puts + columns.rods * columns.lines
    ones = np.ones(count)
    all_spool = np.arange(columns.puts, use_at)

    def matrix(
        rows: npt.NDArray[np.int64], cols: npt.NDArray[np.int64], values: FloatArray, height: int
    ) -> csr_array[np.float64]:
        return coo_array((values, (rows, cols)), shape=(height, size)).tocsr()

    lures = problem.zone_m.shape[2]
    uses = np.arange(len(columns.use))
    # a lure is put on at most one rod; a rod has one line; at most so many rods are used
    once = matrix(np.tile(lure, 2), np.concatenate((2 * combo, 2 * combo + 1)), np.tile(ones, 2),
                  lures)  # fmt: skip
    one_line = matrix(
        np.repeat(np.arange(columns.rods), columns.lines), all_spool, np.ones(all_spool.size),
        columns.rods,
    )  # fmt: skip
    few = matrix(np.zeros(all_spool.size, dtype=np.int64), all_spool, np.ones(all_spool.size), 1)
    # what is put on a rod and line needs that line there: one tied, at most K snapped
    places = columns.rods * columns.lines
    at = rod * columns.lines + line
    tied = matrix(np.concatenate((at, np.arange(places))), np.concatenate((2 * combo, all_spool)),
                  np.concatenate((ones, -np.ones(places))), places)  # fmt: skip
    snapped = matrix(
        np.concatenate((at, np.arange(places))), np.concatenate((2 * combo + 1, all_spool)),
        np.concatenate((ones, -problem.snaps * np.ones(places))), places,
    )  # fmt: skip
    each = matrix(np.concatenate((combo, combo)), np.concatenate((2 * combo + 1, spool)),
                  np.concatenate((ones, -ones)), count)  # fmt: skip
    # a target is served once, by what is put on
    serve = matrix(columns.use[:, 1], use_at + uses, np.ones(uses.size), problem.chance.size)
    link = matrix(np.concatenate((uses, uses)), np.concatenate((use_at + uses, columns.use[:, 0])),
                  np.concatenate((np.ones(uses.size), -np.ones(uses.size))), uses.size)  # fmt: skip
    # implied, but it closes most of the gap: a target served from a rod and line needs that line
    served, target = columns.use.T
    pair = at[served // 2] * problem.chance.size + target
    pairs = np.arange(places * problem.chance.size)
    strong = matrix(
        np.concatenate((pair, pairs)),
        np.concatenate((use_at + uses, columns.puts + pairs // problem.chance.size)),
        np.concatenate((np.ones(uses.size), -np.ones(pairs.size))), pairs.size,
    )  # fmt: skip
    return [
        LinearConstraint(strong, -np.inf, 0.0),
        LinearConstraint(once, -np.inf, 1.0),
        LinearConstraint(one_line, -np.inf, 1.0),
        LinearConstraint(few, -np.inf, float(problem.rods_used)),
        LinearConstraint(tied, 0.0, 0.0),
        LinearConstraint(snapped, -np.inf, 0.0),
        LinearConstraint(each, -np.inf, 0.0),
        LinearConstraint(serve, -np.inf, 1.0),
        LinearConstraint(link, -np.inf, 0.0),
    ]


def _read(columns: _Columns, put: BoolArray) -> tuple[RiggedRod, ...]:
    rods: list[RiggedRod] = []
    for rod in range(columns.rods):
        own = columns.combos[:, 0] == rod
        tied = np.flatnonzero(own & put[:, 0])
        if not tied.size:
            continue
        snaps = columns.combos[np.flatnonzero(own & put[:, 1]), 2]
        _, line, lure = columns.combos[tied[0]].tolist()
        rods.append(RiggedRod(rod, line, lure, tuple(int(item) for item in snaps)))
    return tuple(rods)
