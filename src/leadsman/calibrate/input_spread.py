"""What is not known of a retrieve besides the lure: the spread of every input.

Each figure is a constant with its unit and its source, or is labelled as our own
assumption. They are put together in docs/bands.md.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Protocol

import numpy as np
import numpy.typing as npt

from leadsman.calibrate.first_fit import ANGLE_MAX_RAD, ANGLE_MIN_RAD, LureFit
from leadsman.errors import QuantityError
from leadsman.hydro.drag import (
    NORMAL_FIT_LOG_SD,
    TANGENTIAL_LOG_SD,
    VIBRATION_RISE_MEAN,
)
from leadsman.hydro.lure_forces import LureForces

FloatArray = npt.NDArray[np.float64]

DIAMETER_MEASURED_LOG_SD = 0.02
"""Diameter read on a micrometer: 0.006 mm in 0.31 mm [-]. Own estimate: the instrument's
0.004 mm and a line that is not quite round."""

DIAMETER_NOMINAL_LOG_SD = 0.06
"""Diameter printed on a spool [-]. Common practice, no source: printed figures are rounded
and off by 5 to 10 %."""

CAST_TOLD_LOG_SD = 0.10
"""Length of a cast that was guessed, not measured [-]. Own assumption."""

CAST_MEASURED_LOG_SD = 0.06
"""One cast against the next, when the usual length was measured [-]. Own assumption."""

TIP_SD_M = 0.15
"""Height of the rod tip, how people stand and tire [m]. Own assumption."""

BOAT_SD_M_S = 0.05
"""Boat held on a spot, drift along the cast left over [m s-1]. Own assumption; an unheld
boat in a breeze drifts at 0.2 to 0.5 m/s, which is told, not spread."""

SPEED_LOG_SD = 0.10
"""Reel speed, turns a second times the take-up as the spool fills [-]. Own assumption."""

TRIM_LOSS_MEAN_RAD_M2_S2 = 0.02
"""Mean of the exponential prior on c in delta(v) = delta - c / v^2 [rad m2 s-2].

Own assumption: a buoyancy of 0.05 N on a lever of 10 mm against a moment of
1/2 rho S_D v^2 on the same lever (S_D 15 cm2) turns a lure by 0.07 rad at 1 m/s; the
prior takes a third of that as its mean, as part of that couple is in the lure's trim."""

TRIM_REFERENCE_SPEED_M_S = 1.3
"""Reel speed at which a dive angle is told or fitted [m s-1]: a steady retrieve
of medium pace (common practice, no source). The spread of c turns the trim about this speed."""


class LureBelief(Protocol):
    """Anything that can draw a lure's two numbers."""

    @property
    def centre(self) -> LureForces:
        """The lure at the middle of the belief."""

    @property
    def buoyancy_sd_n(self) -> float:
        """Standard deviation of the net buoyancy [N]."""

    @property
    def trim_loss_mean_rad_m2_s2(self) -> float:
        """Mean of the exponential spread of c [rad m2 s-2]."""

    def draw(self, scores: FloatArray, log_drag: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Dive angles [rad] and pull areas [m2].

        For normal scores, shape (n, 2), given ln of the factor on C_n, shape (n,).
        """


@dataclass(frozen=True, slots=True)
class LureSpread:
    """A lure's two numbers as a normal in dive angle and ln pull area.

    Parameters
    ----------
    centre : LureForces
        The lure at the middle [-].
    dive_angle_sd_rad : float
        Standard deviation of the dive angle [rad].
    log_pull_area_sd : float
        Standard deviation of ln pull area [-].
    correlation : float
        Correlation of the two, between -1 and 1 [-].
    angle_per_log_drag_rad : float
        How much greater the dive angle is if C_n is, per unit of ln C_n: a
        lure fitted to a depth on line that the water grips harder dives at a
        steeper angle [rad].
    buoyancy_sd_n : float
        Standard deviation of the net buoyancy [N].
    trim_loss_mean_rad_m2_s2 : float
        Mean of the exponential spread of c in delta(v) = delta - c / v^2,
        turned about `TRIM_REFERENCE_SPEED_M_S` [rad m2 s-2].

    Raises
    ------
    QuantityError
        A spread is negative or the correlation is not inside -1 to 1.
    """

    centre: LureForces
    dive_angle_sd_rad: float
    log_pull_area_sd: float
    correlation: float = 0.0
    angle_per_log_drag_rad: float = 0.0
    buoyancy_sd_n: float = 0.0
    trim_loss_mean_rad_m2_s2: float = TRIM_LOSS_MEAN_RAD_M2_S2

    def __post_init__(self) -> None:
        spreads = (
            self.dive_angle_sd_rad,
            self.log_pull_area_sd,
            self.buoyancy_sd_n,
            self.trim_loss_mean_rad_m2_s2,
        )
        if not all(0.0 <= value < 10.0 for value in spreads):
            raise QuantityError("a spread is negative or beyond reason", "lure spread")
        if not -1.0 < self.correlation < 1.0:
            raise QuantityError("correlation is not between -1 and 1", "lure spread")

    @classmethod
    def of(cls, fit: LureFit) -> LureSpread:
        """Spread of a first fit.

        Parameters
        ----------
        fit : LureFit
            A lure's numbers from its size and package [-].
        """
        return cls(
            fit.forces,
            fit.dive_angle_sd_rad,
            fit.log_pull_area_sd,
            fit.correlation,
            fit.angle_per_log_drag_rad,
            fit.buoyancy_sd_n,
            fit.trim_speed_loss_sd_rad_m2_s2,
        )

    def draw(self, scores: FloatArray, log_drag: FloatArray) -> tuple[FloatArray, FloatArray]:
        """Dive angles and pull areas for normal scores.

        Parameters
        ----------
        scores : ndarray, shape (n, 2)
            Independent standard normal scores [-].
        log_drag : ndarray, shape (n,)
            ln of the factor on C_n [-].

        Returns
        -------
        dive_angle_rad, pull_area_m2 : ndarray, shape (n,)
            Draws [rad], [m2].
        """
        rho = self.correlation
        angle = (
            self.centre.dive_angle_rad
            + self.dive_angle_sd_rad * scores[:, 0]
            + self.angle_per_log_drag_rad * log_drag
        )
        area_score = rho * scores[:, 0] + np.sqrt(1.0 - rho * rho) * scores[:, 1]
        area = self.centre.pull_area_m2 * np.exp(self.log_pull_area_sd * area_score)
        return np.clip(angle, ANGLE_MIN_RAD, ANGLE_MAX_RAD), np.clip(area, 1e-6, 0.1)


@dataclass(frozen=True, slots=True)
class InputSpread:
    """Spread of everything but the lure.

    Parameters
    ----------
    diameter_log_sd : float
        Standard deviation of ln diameter [-].
    normal_log_sd : float
        Standard deviation of the ln of the factor on C_n [-].
    vibration_rise_mean : float
        Mean of the exponential rise of C_n by vibration; 0 once C_n was
        learned from observations [-].
    normal_centre : float
        Middle of the factor on C_n, 1 for the published fit [-].
    tangential_log_sd : float
        Standard deviation of ln C_t [-].
    cast_log_sd : float
        Relative standard deviation of the cast length [-].
    tip_sd_m : float
        Standard deviation of the height of the rod tip [m].
    boat_sd_m_s : float
        Standard deviation of the boat's velocity along the cast [m s-1].
    speed_log_sd : float
        Standard deviation of ln reel speed [-].

    Raises
    ------
    QuantityError
        A spread is negative or not a number, or the centre is not above 0.
    """

    diameter_log_sd: float = DIAMETER_NOMINAL_LOG_SD
    normal_log_sd: float = NORMAL_FIT_LOG_SD
    vibration_rise_mean: float = VIBRATION_RISE_MEAN
    normal_centre: float = 1.0
    tangential_log_sd: float = TANGENTIAL_LOG_SD
    cast_log_sd: float = CAST_TOLD_LOG_SD
    tip_sd_m: float = TIP_SD_M
    boat_sd_m_s: float = BOAT_SD_M_S
    speed_log_sd: float = SPEED_LOG_SD

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            if not 0.0 <= value < 10.0:
                raise QuantityError(f"{name} of {value:.4g} is outside 0 to 10", "spread")
        if self.normal_centre == 0.0:
            raise QuantityError("normal_centre is not above 0", "spread")

    @classmethod
    def of_measured(cls, cast_log_sd: float = CAST_MEASURED_LOG_SD) -> InputSpread:
        """Diameter on a micrometer and cast length measured.

        Parameters
        ----------
        cast_log_sd : float
            Relative standard deviation of the cast [-].
        """
        return cls(diameter_log_sd=DIAMETER_MEASURED_LOG_SD, cast_log_sd=cast_log_sd)

    @classmethod
    def none(cls) -> InputSpread:
        """Everything known exactly."""
        return cls(0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0)
