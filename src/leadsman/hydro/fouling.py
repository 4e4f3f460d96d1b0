"""Grass as a layer that can foul: the chance of it, and what it costs.

There is no published measurement of how often a diving lure fouls in
vegetation or of the pull that frees it. Every coefficient here is a labelled
assumption with a wide spread, to be learned from an angler's own log. What is
not assumed is the shape: hazard per metre that grows with intrusion, density
and open hooks, and a pull to clear that the tackle can or cannot bring.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from leadsman.errors import QuantityError
from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.hydro.path_batch import PathBatch

FloatArray = npt.NDArray[np.float64]

REFERENCE_HOOKS = 6
"""Open hook points of a lure with two treble hooks, to which the hazard refers [-]."""


@dataclass(frozen=True, slots=True)
class FoulingCoefficients:
    """How readily grass holds a lure. All values are assumptions with no source.

    Parameters
    ----------
    hazard_per_m2 : float
        Fouls per metre of path and per metre of intrusion in closed grass,
        with `REFERENCE_HOOKS` open points. Assumed 0.5: a foot deep in closed
        grass a lure fouls about every seventh metre [m-2].
    hazard_log_sd : float
        Standard deviation of its natural logarithm. Assumed 0.7, a factor of
        2 either way [-].
    clear_base_n : float
        Median pull that frees a lure caught by a stem or two. Assumed 4 N [N].
    clear_per_m_n : float
        Growth of that median with intrusion times density. Assumed 40 N per
        metre: a foot deep in closed grass needs about 16 N [N m-1].
    clear_log_sd : float
        Spread of the pull from foul to foul, standard deviation of its
        natural logarithm. Assumed 0.5 [-].
    raggedness_m : float
        How far above its stated top the grass has stems that a lure can
        touch. Assumed 0.15 m [m].

    Raises
    ------
    QuantityError
        A coefficient is negative, or a spread is not above 0.
    """

    hazard_per_m2: float = 0.5
    hazard_log_sd: float = 0.7
    clear_base_n: float = 4.0
    clear_per_m_n: float = 40.0
    clear_log_sd: float = 0.5
    raggedness_m: float = 0.15

    def __post_init__(self) -> None:
        for name in ("hazard_per_m2", "hazard_log_sd", "clear_per_m_n", "raggedness_m"):
            if not getattr(self, name) >= 0.0:
                raise QuantityError(f"{name} is negative", "grass")
        if not (self.clear_base_n > 0.0 and self.clear_log_sd > 0.0):
            raise QuantityError("the pull to clear grass and its spread must be above 0", "grass")


@dataclass(frozen=True, slots=True)
class ClearingTackle:
    """What can be brought to bear on a fouled lure.

    A snap of the rod moves the tip by `sweep_m`; the line stretches and the
    rod bends by some of it, and what is left pulls. So a long stretchy line
    clears worse than a short stiff one, and a thin line never more than it holds.

    Parameters
    ----------
    breaking_n : float
        Breaking strength of the line [N].
    stiffness_n : float
        Tension per unit strain of the line, E A; ``math.inf`` for none [N].
    open_hooks : int
        Open hook points of the lure [-].
    rod_power_n : float
        Pull at which the rod is fully bent. Assumed 45 N (about 10 lb), a
        medium-heavy rod; common practice, no source [N].
    rod_bend_m : float
        How far the tip gives at that pull. Assumed 0.9 m [m].
    sweep_m : float
        Movement of the tip in one snap. Assumed 1.5 m [m].
    knot_share : float
        Share of the breaking strength that may be used. Assumed 0.7, knots and
        wear; common practice, no source [-].

    Raises
    ------
    QuantityError
        A value is not physical.
    """

    breaking_n: float
    stiffness_n: float = math.inf
    open_hooks: int = REFERENCE_HOOKS
    rod_power_n: float = 45.0
    rod_bend_m: float = 0.9
    sweep_m: float = 1.5
    knot_share: float = 0.7

    def __post_init__(self) -> None:
        if not (self.breaking_n > 0.0 and self.stiffness_n > 0.0 and self.rod_power_n > 0.0):
            raise QuantityError("strengths must be above 0", "tackle for clearing grass")
        if self.open_hooks < 0 or self.rod_bend_m < 0.0 or self.sweep_m < 0.0:
            raise QuantityError(
                "hooks, bend and sweep cannot be negative", "tackle for clearing grass"
            )
        if not 0.0 < self.knot_share <= 1.0:
            raise QuantityError("knot share is outside 0 to 1", "tackle for clearing grass")


@dataclass(frozen=True, slots=True)
class GrassEffect:
    """What grass does to a batch of paths.

    Parameters
    ----------
    touch_share : ndarray, shape (b, n - 1)
        Share of each segment where the lure is in the grass or touches its
        ragged top [-].
    clean_chance : ndarray, shape (b, n - 1)
        Chance that the cast has not been ended by a foul before or in the
        middle of that segment [-].
    fouls : ndarray, shape (b,)
        Expected number of fouls in a cast, cleared ones included [-].
    lost_chance : ndarray, shape (b,)
        Chance that a foul that cannot be cleared ends the cast [-].
    """

    touch_share: FloatArray
    clean_chance: FloatArray
    fouls: FloatArray
    lost_chance: FloatArray


@dataclass(frozen=True, slots=True)
class CleanZone:
    """Expected zone length in grass, for a batch of paths.

    Parameters
    ----------
    clean_zone_m : ndarray, shape (b,)
        Expected metres in the grass or touching its top before the cast is
        lost to a foul [m].
    unfouled_zone_m : ndarray, shape (b,)
        The same if nothing ever fouled [m].
    low_m, high_m : ndarray, shape (b,)
        Clean zone with the hazard one standard deviation higher and lower [m].
    fouls : ndarray, shape (b,)
        Expected fouls in a cast [-].
    lost_chance : ndarray, shape (b,)
        Chance that a foul ends the cast [-].
    """

    clean_zone_m: FloatArray
    unfouled_zone_m: FloatArray
    low_m: FloatArray
    high_m: FloatArray
    fouls: FloatArray
    lost_chance: FloatArray


def fouling_hazard(
    intrusion_m: FloatArray | float,
    density: FloatArray | float,
    open_hooks: int,
    grass: FoulingCoefficients | None = None,
) -> FloatArray:
    """Fouls per metre of path.

    Parameters
    ----------
    intrusion_m : float or ndarray
        How far the lure is under the ragged top of the grass [m].
    density : float or ndarray
        Fraction of the ground covered, 0 to 1 [-].
    open_hooks : int
        Open hook points [-].
    grass : FoulingCoefficients or None
        How readily the grass holds; None takes the assumed values [-].

    Returns
    -------
    ndarray
        Hazard, proportional to intrusion, density and hooks [m-1].
    """
    grass = grass or FoulingCoefficients()
    depth = np.maximum(np.asarray(intrusion_m, dtype=np.float64), 0.0)
    share = open_hooks / REFERENCE_HOOKS
    return np.asarray(grass.hazard_per_m2 * depth * density * share, dtype=np.float64)


def pull_available(
    line_out_m: FloatArray | float, running_pull_n: FloatArray | float, tackle: ClearingTackle
) -> FloatArray:
    """Greatest pull on a fouled lure by one snap of the rod.

    Parameters
    ----------
    line_out_m : float or ndarray
        Line between tip and lure [m].
    running_pull_n : float or ndarray
        Tension the line already had [N].
    tackle : ClearingTackle
        Line and rod [-].

    Returns
    -------
    ndarray
        Pull, at most what rod and knot bear [N].

    Notes
    -----
    Line and bent rod are springs in series, own derivation: the snap adds
    ``sweep / (L / (E A) + bend / power)``.
    """
    give_m_n = np.asarray(line_out_m, dtype=np.float64) / tackle.stiffness_n
    give_m_n = give_m_n + tackle.rod_bend_m / tackle.rod_power_n
    snap_n = tackle.sweep_m / np.maximum(give_m_n, 1e-9)
    most_n = min(tackle.rod_power_n, tackle.knot_share * tackle.breaking_n)
    return np.asarray(np.minimum(running_pull_n + snap_n, most_n), dtype=np.float64)


def clear_chance(
    intrusion_m: FloatArray | float,
    density: FloatArray | float,
    available_n: FloatArray | float,
    grass: FoulingCoefficients | None = None,
) -> FloatArray:
    """Chance that a pull frees a fouled lure.

    Parameters
    ----------
    intrusion_m : float or ndarray
        How far the lure is under the ragged top of the grass [m].
    density : float or ndarray
        Fraction of the ground covered [-].
    available_n : float or ndarray
        Pull that can be brought [N].
    grass : FoulingCoefficients or None
        How readily the grass holds; None takes the assumed values [-].

    Returns
    -------
    ndarray
        Chance, from a lognormal pull needed [-].
    """
    from scipy.special import ndtr

    grass = grass or FoulingCoefficients()
    depth = np.maximum(np.asarray(intrusion_m, dtype=np.float64), 0.0)
    needed_n = grass.clear_base_n + grass.clear_per_m_n * depth * density
    available = np.maximum(np.asarray(available_n, dtype=np.float64), 1e-9)
    return np.asarray(ndtr(np.log(available / needed_n) / grass.clear_log_sd), dtype=np.float64)


def grass_effect(
    paths: PathBatch,
    layer: GrassLayer,
    bottom: BottomProfile,
    tackle: ClearingTackle | list[ClearingTackle],
    grass: FoulingCoefficients | None = None,
) -> GrassEffect:
    """Follow a batch of paths through a layer of grass.

    Parameters
    ----------
    paths : PathBatch
        Paths run over the bare bottom, as if the grass gave way [-].
    layer : GrassLayer
        The grass [-].
    bottom : BottomProfile
        The bottom it stands on [-].
    tackle : ClearingTackle or list of ClearingTackle
        One for all paths, or one for each [-].
    grass : FoulingCoefficients or None
        How readily the grass holds; None takes the assumed values [-].

    Returns
    -------
    GrassEffect
        Touching, chance of being clean, fouls and chance of a lost cast [-].
    """
    grass = grass or FoulingCoefficients()
    x = paths.x_m
    length = np.abs(np.diff(x, axis=1))
    density, top = _layer_at(layer, bottom, x)
    intrusion = paths.depth_m - (top - grass.raggedness_m)
    intrusion = np.where(density > 0.0, intrusion, -1.0)
    wet = np.maximum(intrusion, 0.0)

    tackles = tackle if isinstance(tackle, list) else [tackle] * len(paths)
    hazard = np.empty_like(x)
    ending = np.empty_like(x)
    for row, own in enumerate(tackles):
        hazard[row] = fouling_hazard(wet[row], density[row], own.open_hooks, grass)
        pull = pull_available(paths.line_out_m[row], paths.pull_n[row], own)
        ending[row] = hazard[row] * (1.0 - clear_chance(wet[row], density[row], pull, grass))
    met = 0.5 * (hazard[:, 1:] + hazard[:, :-1]) * length
    lost = 0.5 * (ending[:, 1:] + ending[:, :-1]) * length
    total = np.cumsum(lost, axis=1)
    # fouls met only while the cast is still on
    clean = np.exp(-(total - 0.5 * lost))
    return GrassEffect(
        touch_share=_share_above_zero(intrusion),
        clean_chance=clean,
        fouls=(met * clean).sum(axis=1),
        lost_chance=-np.expm1(-total[:, -1]),
    )


def clean_zone(
    paths: PathBatch,
    layer: GrassLayer,
    bottom: BottomProfile,
    tackle: ClearingTackle | list[ClearingTackle],
    grass: FoulingCoefficients | None = None,
) -> CleanZone:
    """Expected metres of each path in the grass before a foul ends the cast.

    Parameters
    ----------
    paths : PathBatch
        Paths run over the bare bottom [-].
    layer : GrassLayer
        The grass [-].
    bottom : BottomProfile
        The bottom it stands on [-].
    tackle : ClearingTackle or list of ClearingTackle
        One for all paths, or one for each [-].
    grass : FoulingCoefficients or None
        How readily the grass holds; None takes the assumed values [-].

    Returns
    -------
    CleanZone
        Expected metres with their spread, fouls and chance of a lost cast [-].
    """
    grass = grass or FoulingCoefficients()
    effect = grass_effect(paths, layer, bottom, tackle, grass)
    metres = effect.touch_share * np.abs(np.diff(paths.x_m, axis=1))
    factor = math.exp(grass.hazard_log_sd)
    # the chance of being clean is the exponential of the hazard, so a factor is a power
    return CleanZone(
        clean_zone_m=(metres * effect.clean_chance).sum(axis=1),
        unfouled_zone_m=metres.sum(axis=1),
        low_m=(metres * effect.clean_chance**factor).sum(axis=1),
        high_m=(metres * effect.clean_chance ** (1.0 / factor)).sum(axis=1),
        fouls=effect.fouls,
        lost_chance=effect.lost_chance,
    )


def _layer_at(
    layer: GrassLayer, bottom: BottomProfile, x_m: FloatArray
) -> tuple[FloatArray, FloatArray]:
    """Density and top of the grass at places; no density where it is level with the bottom."""
    top = np.interp(x_m, layer.x_m, layer.top_depth_m)
    density = np.interp(x_m, layer.x_m, layer.density)
    stands = top < bottom.depth_at(x_m)
    return np.where(stands, density, 0.0), top


def _share_above_zero(values: FloatArray) -> FloatArray:
    """Share of each segment where a linear quantity is above 0, shape (b, n - 1)."""
    a, b = values[:, :-1], values[:, 1:]
    span = np.where(a == b, 1.0, np.abs(a - b))
    crossing = np.maximum(a, b) / span
    both = (a > 0.0) & (b > 0.0)
    none = (a <= 0.0) & (b <= 0.0)
    return np.asarray(np.where(both, 1.0, np.where(none, 0.0, crossing)), dtype=np.float64)
