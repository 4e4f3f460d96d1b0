"""A flat metric frame around a lake, and back to longitude and latitude."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property
from typing import TYPE_CHECKING

import numpy as np
import numpy.typing as npt

from leadsman.errors import LakeDataError

if TYPE_CHECKING:
    from pyproj import Proj

FloatArray = npt.NDArray[np.float64]

MAX_EXTENT_M = 300_000.0
"""Half-width within which the frame is used [m]. At it the scale is off by 0.11 %, x^2 / 2 R^2."""


@dataclass(frozen=True)
class MetricFrame:
    """Transverse Mercator on WGS84 centred on the data, scale 1 at its centre.

    Distances are true to x^2 / (2 R^2) at x metres east or west of the
    centre: 1.2 parts in a million at 10 km, 0.03 % at 150 km. The frame is
    local, so the antimeridian and the southern hemisphere are nothing
    special.

    Parameters
    ----------
    lon0_deg : float
        Longitude of the centre [deg].
    lat0_deg : float
        Latitude of the centre [deg].

    Raises
    ------
    LakeDataError
        The centre is not on Earth or lies at a pole.
    """

    lon0_deg: float
    lat0_deg: float

    def __post_init__(self) -> None:
        if not (-180.0 <= self.lon0_deg <= 180.0 and -85.0 <= self.lat0_deg <= 85.0):
            raise LakeDataError(
                f"no lake frame at latitude {self.lat0_deg:.6g}, longitude {self.lon0_deg:.6g}",
                "position",
                "Check the order of latitude and longitude",
            )

    @classmethod
    def around(cls, lon_deg: FloatArray, lat_deg: FloatArray) -> MetricFrame:
        """Frame centred on the median of some positions.

        Parameters
        ----------
        lon_deg : ndarray, shape (n,)
            Longitudes [deg].
        lat_deg : ndarray, shape (n,)
            Latitudes [deg].

        Raises
        ------
        LakeDataError
            There are no positions.
        """
        if lon_deg.size == 0:
            raise LakeDataError("there are no positions", "soundings")
        # Longitudes are unwrapped around one of them so that a lake on the
        # antimeridian does not average to the other side of the world.
        first = float(lon_deg.flat[0])
        offset = float(np.median((lon_deg - first + 180.0) % 360.0 - 180.0))
        lon0 = (first + offset + 180.0) % 360.0 - 180.0
        return cls(round(lon0, 6), round(float(np.median(lat_deg)), 6))

    @cached_property
    def _proj(self) -> Proj:
        from pyproj import Proj

        return Proj(
            f"+proj=tmerc +lat_0={self.lat0_deg!r} +lon_0={self.lon0_deg!r} "
            "+k=1 +ellps=WGS84 +units=m"
        )

    @property
    def proj_text(self) -> str:
        """The frame as a PROJ string with its datum, for files that name their frame."""
        return (
            f"+proj=tmerc +lat_0={self.lat0_deg!r} +lon_0={self.lon0_deg!r} "
            "+k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs"
        )

    def to_metric(
        self, lon_deg: FloatArray | float, lat_deg: FloatArray | float
    ) -> tuple[FloatArray, FloatArray]:
        """Metres east and north of the centre.

        Parameters
        ----------
        lon_deg : float or ndarray
            Longitudes [deg].
        lat_deg : float or ndarray
            Latitudes [deg].

        Returns
        -------
        tuple of ndarray
            East and north [m]; infinite where the frame does not reach.
        """
        x, y = self._proj(
            np.asarray(lon_deg, dtype=np.float64), np.asarray(lat_deg, dtype=np.float64)
        )
        return np.asarray(x, dtype=np.float64), np.asarray(y, dtype=np.float64)

    def to_lonlat(
        self, x_m: FloatArray | float, y_m: FloatArray | float
    ) -> tuple[FloatArray, FloatArray]:
        """Longitude and latitude of places in the frame.

        Parameters
        ----------
        x_m : float or ndarray
            Metres east of the centre [m].
        y_m : float or ndarray
            Metres north of the centre [m].

        Returns
        -------
        tuple of ndarray
            Longitude and latitude [deg].
        """
        lon, lat = self._proj(
            np.asarray(x_m, dtype=np.float64), np.asarray(y_m, dtype=np.float64), inverse=True
        )
        return np.asarray(lon, dtype=np.float64), np.asarray(lat, dtype=np.float64)

    def grid_heading_rad(self, lon_deg: float, lat_deg: float, heading_deg: float) -> float:
        """Angle of a true heading in the frame, clockwise from its north.

        Meridians converge, so away from the central one true north is not
        quite the frame's north: 0.1 deg at 10 km and 45 deg latitude.

        Parameters
        ----------
        lon_deg : float
            Longitude of the place [deg].
        lat_deg : float
            Latitude of the place [deg].
        heading_deg : float
            True heading, clockwise from north [deg].

        Returns
        -------
        float
            Angle clockwise from the y axis [rad].
        """
        step = 1e-4
        x, y = self.to_metric(
            np.array([lon_deg, lon_deg]), np.array([lat_deg - step, lat_deg + step])
        )
        north_rad = float(np.arctan2(x[1] - x[0], y[1] - y[0]))
        return float(np.radians(heading_deg) + north_rad)
