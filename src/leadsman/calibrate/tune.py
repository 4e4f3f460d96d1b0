"""Learn lures from what was seen of them, all together, since they share the line's drag."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import date

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.evidence import Evidence, Fished, PullOnScale
from leadsman.calibrate.first_fit import LureFit, first_fit
from leadsman.calibrate.likelihood import (
    OUTLIER_CHANCE,
    likelihood,
    outlier_density,
)
from leadsman.calibrate.observation_product import ObservationProduct
from leadsman.calibrate.parameter_grid import ParameterGrid
from leadsman.calibrate.posterior import DepthBand, DragBelief, GridBelief, SortedDepth
from leadsman.calibrate.prior import GridPrior, drag_prior, grid_of, lure_prior
from leadsman.calibrate.setup_response import LEAST_DEPTH_M, setup_response
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.technique import Technique
from leadsman.tackle.lure import Lure

FloatArray = npt.NDArray[np.float64]

CONFLICT_CHANCE = 0.5
"""Chance of being plainly wrong from which a conflict is reported [-]: more likely than not."""
HALF_BAND_90 = 1.645
"""Half of the 90 % band of a normal law, in standard deviations [-]."""


@dataclass(frozen=True, slots=True)
class Observed:
    """One thing that was seen, with what it is called.

    Parameters
    ----------
    label : str
        What a person would call it [-].
    evidence : Evidence
        What was seen [-].
    day : datetime.date or None
        When [-].
    """

    label: str
    evidence: Evidence
    day: date | None = None


@dataclass(frozen=True, slots=True)
class LureCase:
    """A lure with what was seen of it.

    Parameters
    ----------
    lure : Lure
        Lure [-].
    observed : tuple of Observed
        In the order in which it was seen [-].
    """

    lure: Lure
    observed: tuple[Observed, ...] = ()


@dataclass(frozen=True, slots=True)
class Reference:
    """The setup whose depth band is reported.

    Parameters
    ----------
    line : LineProperties
        Line [-].
    technique : Technique
        How it is fished [-].
    """

    line: LineProperties
    technique: Technique


@dataclass(frozen=True, slots=True)
class Taught:
    """What one observation taught, in the order they were made.

    Parameters
    ----------
    label : str
        The observation [-].
    before, after : DepthBand
        Band of the reference depth before and after it [-].
    """

    label: str
    before: DepthBand
    after: DepthBand

    @property
    def gain_m(self) -> float:
        """How much narrower the 90 % band became [m]."""
        return self.before.width_m - self.after.width_m


RATED_DEPTH = "rated depth"
"""Label of a conflict of the package with what was seen [-]."""


@dataclass(frozen=True, slots=True)
class Conflict:
    """Something that the rest of what was seen contradicts.

    Parameters
    ----------
    label : str
        The observation, or ``"rated depth"`` [-].
    chance : float
        Chance that it is plainly wrong [-].
    others : DepthBand or None
        What the rest says of the depth on the same setup; None for a pull [-].
    said_m : float or None
        The depth that it names [m].
    """

    label: str
    chance: float
    others: DepthBand | None
    said_m: float | None

    @property
    def shallower(self) -> bool:
        """Whether it names a shallower depth than the rest [-]."""
        return (
            self.others is not None
            and self.said_m is not None
            and (self.said_m < self.others.low_m)
        )


@dataclass(frozen=True, slots=True)
class TunedLure:
    """One lure after what was seen of it.

    Parameters
    ----------
    lure : Lure
        Lure [-].
    fit : LureFit
        First fit, before anything was seen [-].
    belief : GridBelief
        What is believed of it now [-].
    prior_band, band : DepthBand
        Reference depth before and after, by lure and drag alone [-].
    taught : tuple of Taught
        One for each observation [-].
    conflicts : tuple of Conflict
        What does not agree [-].
    """

    lure: Lure
    fit: LureFit
    belief: GridBelief
    prior_band: DepthBand
    band: DepthBand
    taught: tuple[Taught, ...]
    conflicts: tuple[Conflict, ...]


@dataclass(frozen=True, slots=True)
class Tuning:
    """All lures together.

    Parameters
    ----------
    lures : tuple of TunedLure
        In the order given [-].
    drag : DragBelief
        The line's drag, learned from all of them [-].
    prior_drag : DragBelief
        The same before [-].
    """

    lures: tuple[TunedLure, ...]
    drag: DragBelief
    prior_drag: DragBelief


def tune(
    cases: Sequence[LureCase],
    reference: Callable[[Lure], Reference],
    progress: Callable[[str], None] | None = None,
) -> Tuning:
    """Learn every lure, and the drag of the line that they share.

    Given the drag the lures are independent, so that the joint posterior is a
    product over the grid's nodes of the drag: exact, with no sampler.

    Parameters
    ----------
    cases : sequence of LureCase
        Lures with what was seen of them [-].
    reference : callable
        The setup on which each lure's band is reported [-].
    progress : callable or None
        Told the name of each lure as it is begun [-].
    """
    models: list[_LureModel] = []
    for case in cases:
        if progress is not None:
            progress(case.lure.name)
        models.append(_LureModel(case))
    log_drag = models[0].grid.log_drag if models else np.zeros(0)
    prior = drag_prior(log_drag) if models else np.zeros(0)
    marginals = [_scaled(model.all().sum(axis=(1, 2))) for model in models]
    tuned = []
    for i, model in enumerate(models):
        others = prior.copy()
        for marginal in marginals[:i] + marginals[i + 1 :]:
            others = _scaled(others * marginal)
        tuned.append(model.report(others, reference(model.case.lure)))
    joint = prior.copy()
    for marginal in marginals:
        joint = _scaled(joint * marginal)
    if not models:
        empty = DragBelief(0.0, 0.0, prior)
        return Tuning((), empty, empty)
    return Tuning(tuple(tuned), DragBelief.of(log_drag, joint), DragBelief.of(log_drag, prior))


def _scaled(weight: FloatArray) -> FloatArray:
    return np.asarray(weight / weight.max())


class _LureModel:
    """Likelihoods of one lure on its grid, put together in any selection."""

    def __init__(self, case: LureCase) -> None:
        self.case = case
        self.fit = first_fit(case.lure)
        self.grid: ParameterGrid = grid_of(self.fit)
        self.prior: GridPrior = lure_prior(case.lure, self.fit, self.grid)
        # single precision: an outlier's share keeps every value far from underflow
        self._likes = [
            likelihood(item.evidence, self.grid, self.fit.forces).astype(np.float32)
            for item in case.observed
        ]
        self._lines = [_line_of(item.evidence, i) for i, item in enumerate(case.observed)]
        self._product = self._nothing()
        for i, like in enumerate(self._likes):
            self._product.add(i, like)

    def _nothing(self) -> ObservationProduct:
        return ObservationProduct(self._lines, self.prior.weight.shape)

    def all(self) -> FloatArray:
        """Prior times every likelihood, without the drag's own prior."""
        return self.prior.weight * self._product.all()

    def report(self, drag: FloatArray, reference: Reference) -> TunedLure:
        """Belief, bands, lessons and conflicts, with the drag as the other lures leave it."""
        forces = self.fit.forces
        shape = setup_response(self.grid, forces, reference.line, reference.technique)
        depth = SortedDepth(shape.depth_m)
        prior = self.prior.weight * drag[:, None, None]
        prior_band = before = depth.band(prior)
        taught = []
        growing = self._nothing()
        for i, item in enumerate(self.case.observed):
            growing.add(i, self._likes[i])
            after = depth.band(prior * growing.all())
            taught.append(Taught(item.label, before, after))
            before = after
        belief = GridBelief.of(
            self.grid, prior * self._product.all(), forces, self.fit.buoyancy_sd_n
        )
        return TunedLure(
            self.case.lure, self.fit, belief, prior_band, before, tuple(taught),
            self._conflicts(drag[:, None, None]),
        )  # fmt: skip

    def _conflicts(self, by_drag: FloatArray) -> tuple[Conflict, ...]:
        if not self._likes:
            return ()
        found = self._rating_conflict(self._product.all() * by_drag)
        prior = self.prior.weight * by_drag
        for i, item in enumerate(self.case.observed):
            with_it, without = self._product.with_and_without(i, self._likes[i])
            rest = prior * without
            # the share of the evidence that the row's being wrong makes up is its exact chance
            wrong = OUTLIER_CHANCE * outlier_density(item.evidence) * float(rest.sum())
            chance = wrong / float((prior * with_it).sum())
            if chance > CONFLICT_CHANCE:
                found.append(self._conflict(item, min(chance, 1.0), rest))
        return tuple(found)

    def _conflict(self, item: Observed, chance: float, rest: FloatArray) -> Conflict:
        evidence = item.evidence
        if isinstance(evidence, PullOnScale):
            return Conflict(item.label, chance, None, None)
        fished: Fished = evidence.fished
        shape = setup_response(self.grid, self.fit.forces, fished.line, fished.technique)
        return Conflict(item.label, chance, SortedDepth(shape.depth_m).band(rest), evidence.depth_m)

    def _rating_conflict(self, product: FloatArray) -> list[Conflict]:
        """The rated depth, if it lies outside the 90 % band of what was seen.

        One spread of promise and test is allowed on top, since a promise that
        is a tenth off is no news.
        """
        wrong, log_sd, test = self.prior.if_rating_wrong, self.prior.rating_log_sd, self.fit.test
        rated_m = self.fit.rated_depth_m
        if wrong is None or log_sd is None or test is None or rated_m is None:
            return []
        shape = setup_response(self.grid, self.fit.forces, test.line, test.technique)
        rest = self.prior.size_only * product
        share = rest / rest.sum()
        log_depth = np.log(np.maximum(shape.depth_m, LEAST_DEPTH_M))
        mean = float((share * log_depth).sum())
        own_sd = math.sqrt(float((share * (log_depth - mean) ** 2).sum()))
        promise_sd = math.sqrt(float((share * log_sd**2).sum()))
        if abs(math.log(rated_m) - mean) < HALF_BAND_90 * own_sd + promise_sd:
            return []
        chance = float((wrong * product).sum() / (self.prior.weight * product).sum())
        return [Conflict(RATED_DEPTH, chance, SortedDepth(shape.depth_m).band(rest), rated_m)]


def _line_of(evidence: Evidence, index: int) -> str:
    """Observations on one line share its diameter error; a pull has no line."""
    return f"\x00{index}" if isinstance(evidence, PullOnScale) else evidence.fished.line_name
