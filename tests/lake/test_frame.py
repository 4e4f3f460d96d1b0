"""The metric frame against published geodesy and exact symmetries."""

from __future__ import annotations

import numpy as np
import pytest
from pyproj import Geod

from leadsman.errors import LakeDataError
from leadsman.lake.frame import MetricFrame


@pytest.mark.parametrize(
    ("lon", "lat"), [(-93.7, 49.7), (179.9999, -38.0), (-179.9999, -38.0), (0.0, 0.0), (25.0, 65.0)]
)
def test_distances_and_headings_are_those_on_the_ellipsoid(lon: float, lat: float) -> None:
    """Karney 2013 (J. Geod. 87:43-55) geodesics, as coded in PROJ."""
    frame = MetricFrame(lon, lat)
    geod = Geod(ellps="WGS84")
    for azimuth in range(0, 360, 30):
        for distance in (50.0, 5000.0):
            lon2, lat2, _ = geod.fwd(lon, lat, azimuth, distance)
            x, y = frame.to_metric(lon2, lat2)
            assert np.hypot(x, y) == pytest.approx(distance, rel=1e-6)
            turn = (np.degrees(np.arctan2(x, y)) - azimuth + 180.0) % 360.0 - 180.0
            assert abs(turn) < 1e-3


def test_there_and_back() -> None:
    frame = MetricFrame(-93.0, 45.0)
    x = np.linspace(-20_000.0, 20_000.0, 9)
    lon, lat = frame.to_lonlat(x, x[::-1])
    back_x, back_y = frame.to_metric(lon, lat)
    assert back_x == pytest.approx(x, abs=1e-6)
    assert back_y == pytest.approx(x[::-1], abs=1e-6)


def test_centre_of_positions_on_the_antimeridian() -> None:
    frame = MetricFrame.around(np.array([179.99, -179.99, 179.98]), np.array([-38.0, -38.1, -38.0]))
    x, _ = frame.to_metric(np.array([179.99, -179.99]), np.array([-38.0, -38.0]))
    assert np.ptp(x) < 2000.0


def test_heading_off_the_central_meridian_is_true_north() -> None:
    frame = MetricFrame(-93.0, 45.0)
    geod = Geod(ellps="WGS84")
    lon2, lat2, _ = geod.fwd(-92.0, 45.0, 30.0, 100.0)
    x, y = frame.to_metric(np.array([-92.0, lon2]), np.array([45.0, lat2]))
    angle = frame.grid_heading_rad(-92.0, 45.0, 30.0)
    assert np.arctan2(x[1] - x[0], y[1] - y[0]) == pytest.approx(angle, abs=1e-5)


@pytest.mark.parametrize(("lon", "lat"), [(0.0, 90.0), (200.0, 0.0), (float("nan"), 0.0)])
def test_no_frame_at_a_pole_or_off_the_earth(lon: float, lat: float) -> None:
    with pytest.raises(LakeDataError):
        MetricFrame(lon, lat)


def test_no_positions() -> None:
    with pytest.raises(LakeDataError, match="no positions"):
        MetricFrame.around(np.zeros(0), np.zeros(0))
