"""Several models as one, against inverse-variance weighting done by hand."""

from __future__ import annotations

import numpy as np
import pytest

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.fuse import fuse
from leadsman.lake.lattice import Lattice

LATTICE = Lattice(MetricFrame(-93.0, 45.0), -100.0, -100.0, 5.0, 41, 41)


def level(depth: float, se: float, name: str, lattice: Lattice = LATTICE) -> BottomModel:
    return BottomModel(
        name,
        lattice,
        np.full(lattice.shape, depth, "float32"),
        np.full(lattice.shape, se, "float32"),
        (name,),
    )


def test_two_that_agree() -> None:
    """Weights 1/0.04 and 1/0.16: 25 and 6.25, mean (25*5 + 6.25*5.1)/31.25, se 1/sqrt(31.25)."""
    fused = fuse([level(5.1, 0.4, "b"), level(5.0, 0.2, "a")], "lake", align=False)
    assert fused.depth_m == pytest.approx(np.full(LATTICE.shape, 5.02), abs=1e-5)
    assert fused.se_m == pytest.approx(np.full(LATTICE.shape, 31.25**-0.5), abs=1e-5)
    assert fused.sources == ("a", "b")


def test_two_that_disagree_widen_the_error() -> None:
    """Birge ratio of 5 and 7 with errors 0.2 each: chi2 = 2 * (1/0.2)^2 = 50, factor sqrt(50)."""
    fused = fuse([level(5.0, 0.2, "a"), level(7.0, 0.2, "b")], "lake", align=False)
    assert fused.se_m[0, 0] == pytest.approx(0.2 / 2**0.5 * 50**0.5, rel=1e-4)


def test_offset_of_level_is_taken_out_and_said() -> None:
    fused = fuse([level(5.0, 0.2, "a"), level(6.0, 0.4, "b")], "lake")
    assert fused.depth_m[3, 3] == pytest.approx(5.0, abs=1e-5)
    assert any("1.00 m deeper" in said for said in fused.said)


def test_an_absurd_offset_is_flagged_and_not_moved() -> None:
    fused = fuse([level(5.0, 0.2, "a"), level(15.0, 0.4, "b")], "lake")
    assert any("check its unit" in said for said in fused.said)
    assert fused.se_m[3, 3] > 1.0


def test_frames_may_differ_and_areas_add_up() -> None:
    other = Lattice(MetricFrame(-93.001, 45.0), 0.0, -100.0, 10.0, 31, 21)
    fused = fuse([level(5.0, 0.2, "a"), level(5.0, 0.2, "b", other)], "lake")
    assert fused.lattice.cell_m == 5.0
    assert np.nanmax(np.abs(fused.depth_m - 5.0)) < 1e-4
    assert fused.area_deeper_m2(0.0) > 1.3 * level(5.0, 0.2, "a").area_deeper_m2(0.0)


def test_one_and_none() -> None:
    assert fuse([level(5.0, 0.2, "a")], "lake").name == "lake"
    with pytest.raises(LakeDataError):
        fuse([], "lake")


def test_models_of_two_lakes_are_refused() -> None:
    far = Lattice(MetricFrame(-80.0, 45.0), -100.0, -100.0, 5.0, 41, 41)
    with pytest.raises(LakeDataError):
        fuse([level(5.0, 0.2, "a"), level(5.0, 0.2, "b", far)], "lake")
