"""Evaluated casts against the full solver: zone, flags, grass, level."""

from __future__ import annotations

import math
import os
from pathlib import Path

import numpy as np
import pytest
from pass_cases import FloatArray, model_of, setup, slope

from leadsman.hydro.bottom_profile import BottomProfile, GrassLayer
from leadsman.hydro.fouling import ClearingTackle, grass_effect
from leadsman.hydro.path_batch import PathBatch
from leadsman.hydro.retrieve import retrieve
from leadsman.hydro.zone import contact_zone
from leadsman.lake.bottom_model import BottomModel
from leadsman.plan.passes_evaluate import PackedGrid, evaluate_casts
from leadsman.plan.passes_table import PassSetup, contact_table
from leadsman.plan.passes_types import GrassStand

HERE = (np.zeros(1), np.zeros(1), np.zeros(1))
"""One cast north from the middle."""


def profile(model: BottomModel, x: float, y: float, angle: float, cast_m: float) -> BottomProfile:
    out = np.arange(-12.0, cast_m + 1.01, 1.0)
    depth, _ = model.sample(x + out * math.sin(angle), y + out * math.cos(angle))
    return BottomProfile(out, np.nan_to_num(depth, nan=1.0))


def compare(
    which: PassSetup, model: BottomModel, count: int, seed: int = 0, half_m: float = 200.0
) -> tuple[FloatArray, FloatArray]:
    """Zone of random casts that touch, looked up and solved in full [m]."""
    rng = np.random.default_rng(seed)
    n = 40 * count
    x, y = rng.uniform(-half_m, half_m, n), rng.uniform(-half_m, half_m, n)
    angle = rng.uniform(0.0, 2.0 * np.pi, n)
    found = evaluate_casts(PackedGrid.of(model), contact_table(which), x, y, angle)
    pick = np.flatnonzero(found.usable & (found.contact_m > 3.0))[:count]
    full = []
    for i in pick:
        bottom = profile(model, x[i], y[i], angle[i], which.technique.cast_m)
        path = retrieve(which.lure.forces, which.line.properties, which.technique, bottom)
        full.append(contact_zone(path, bottom).zone_m)
    return found.nominal_zone_m[pick], np.array(full)


def told(mine: FloatArray, full: FloatArray) -> str:
    apart, whole = np.abs(mine - full), mine.sum() / full.sum() - 1.0
    return (
        f"{mine.size} casts, zone {full.mean():.1f} m: all together {whole:+.2%}"
        f", each off by median {np.median(apart):.2f} m, 90 % {np.quantile(apart, 0.9):.2f} m"
    )


def rough(x: FloatArray, y: FloatArray) -> FloatArray:
    waves = 0.25 * np.sin(x / 19.0 + 1.0) * np.cos(y / 27.0) + 0.1 * np.sin((x + y) / 11.0)
    return np.asarray(slope(x, y) + waves, dtype=np.float64)


@pytest.mark.parametrize("boat_m_s", [0.0, 0.3])
def test_zone_as_the_full_solver_over_a_rough_bottom(boat_m_s: float) -> None:
    mine, full = compare(setup(boat_m_s=boat_m_s), model_of(rough), 250)
    print(told(mine, full))
    assert mine.size == 250
    assert mine.sum() == pytest.approx(full.sum(), rel=0.02)
    assert np.median(np.abs(mine - full)) < 0.15
    assert np.quantile(np.abs(mine - full), 0.9) < 0.6


def test_monona_as_the_full_solver() -> None:
    root = Path(os.environ.get("LEADSMAN_SHARED_DATA", Path(__file__).parents[3] / "shared/data"))
    folder = root / "yahara_monona"
    if not folder.is_dir():
        pytest.skip("the contours of Lake Monona are not here")
    model = monona(folder)
    mine, full = compare(setup(26.0, 50.0), model, 200, half_m=1500.0)
    print(told(mine, full))
    assert mine.sum() == pytest.approx(full.sum(), rel=0.02)


def monona(folder: Path) -> BottomModel:
    from leadsman.lake.contour_surface import model_from_contours
    from leadsman.lake.read_contours import ContourOptions, read_contours

    options = ContourOptions(crs="EPSG:3070")
    regions, _ = read_contours(folder / "monona-contours-all.shp", options)
    return model_from_contours(regions, "Monona")


def test_a_hump_between_boat_and_lure_is_flagged_as_by_the_full_solver() -> None:
    def humped(x: FloatArray, y: FloatArray) -> FloatArray:
        return np.asarray(3.6 - 2.9 * np.exp(-(((y - 12.0) / 7.0) ** 2)) + 0.0 * x)

    model = model_of(humped)
    which = setup()
    found = evaluate_casts(
        PackedGrid.of(model),
        contact_table(which, bottoms=60),
        np.zeros(1),
        np.zeros(1),
        np.zeros(1),
    )
    bottom = profile(model, 0.0, 0.0, 0.0, which.technique.cast_m)
    path = retrieve(which.lure.forces, which.line.properties, which.technique, bottom)
    assert path.line_touches
    assert found.doubtful[0]
    assert not found.usable[0]


def test_more_water_is_the_same_as_a_deeper_lake() -> None:
    table = contact_table(setup(), bottoms=60)
    angle = np.linspace(0.0, 6.0, 50)
    zeros = np.zeros(50)
    higher = evaluate_casts(PackedGrid.of(model_of(slope), 0.4), table, zeros, zeros, angle)
    deeper = model_of(lambda x, y: slope(x, y) + 0.4)
    other = evaluate_casts(PackedGrid.of(deeper), table, zeros, zeros, angle)
    assert higher.zone_m == pytest.approx(other.zone_m, abs=0.02)


def test_fouling_as_along_the_full_path() -> None:
    """Against `hydro.fouling` along the solved path."""
    which, height, density = setup(rel_se=0.0), 0.6, 0.5
    grass = GrassStand(20.0, 0.2, height, density)
    model = model_of(lambda x, y: 3.4 + 0.0 * x, 100.0, 0.0)
    found = evaluate_casts(
        PackedGrid.of(model),
        contact_table(which),
        np.zeros(1),
        np.zeros(1),
        np.zeros(1),
        grass=grass,
    )
    layer = GrassLayer(np.array([-50.0, 100.0]), np.full(2, 3.4 - height), np.full(2, density))
    bottom = BottomProfile.flat(3.4)
    path = retrieve(which.lure.forces, which.line.properties, which.technique, bottom)
    tackle = ClearingTackle(
        breaking_n=which.line.breaking_n, stiffness_n=which.line.properties.stiffness_n
    )
    effect = grass_effect(PathBatch.of([path]), layer, bottom, tackle)
    assert found.fouls[0] == pytest.approx(effect.fouls[0], rel=0.05)
    assert found.lost_chance[0] == pytest.approx(effect.lost_chance[0], rel=0.08)
    assert found.zone_m[0] > 0.0
