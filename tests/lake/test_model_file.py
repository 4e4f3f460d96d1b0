"""The file of a bottom model: there and back, fast, and safe against damage."""

from __future__ import annotations

import struct
import time
from pathlib import Path

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from leadsman.errors import LakeDataError
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.frame import MetricFrame
from leadsman.lake.lattice import Lattice
from leadsman.lake.model_file import MAGIC, STEP_M, load_model, save_model


def bowl(nx: int, ny: int, cell: float) -> BottomModel:
    lattice = Lattice(MetricFrame(-93.0, 45.0), -nx * cell / 2, -ny * cell / 2, cell, nx, ny)
    x, y = np.meshgrid(lattice.x_m / (nx * cell / 2), lattice.y_m / (ny * cell / 2))
    depth = 12.0 * (1.0 - x**2 - y**2) + 0.2 * np.sin(90.0 * x) * np.sin(70.0 * y)
    depth = np.where(x**2 + y**2 < 1.0, depth, np.nan).astype("float32")
    se = np.where(np.isfinite(depth), 0.3 + 0.1 * np.sin(50.0 * x), np.nan).astype("float32")
    return BottomModel("Bowl", lattice, depth, se, ("a.csv",), ("made up",))


def test_there_and_back(tmp_path: Path) -> None:
    model = bowl(150, 90, 5.0)
    path = tmp_path / "bowl.bottom"
    save_model(model, path)
    again = load_model(path)
    assert (again.name, again.lattice, again.sources, again.said) == (
        model.name, model.lattice, model.sources, model.said,
    )  # fmt: skip
    for one, two in ((model.depth_m, again.depth_m), (model.se_m, again.se_m)):
        assert np.array_equal(np.isnan(one), np.isnan(two))
        assert np.nanmax(np.abs(one - two)) <= 0.5 * STEP_M + 1e-5
    assert [p.name for p in tmp_path.iterdir()] == ["bowl.bottom"], "no temporary file is left"


def test_four_thousand_hectares_open_and_sample_a_million_places_in_time(tmp_path: Path) -> None:
    model = bowl(1700, 1210, 5.0)
    assert np.count_nonzero(np.isfinite(model.depth_m)) * 25.0 / 1e4 > 4000.0
    path = tmp_path / "big.bottom"
    save_model(model, path)
    assert path.stat().st_size < 5_000_000
    rng = np.random.default_rng(0)
    x, y = rng.uniform(-4000, 4000, 1_000_000), rng.uniform(-2900, 2900, 1_000_000)
    open_s, both_s = [], []
    for _ in range(4):
        start = time.process_time()
        model = load_model(path)
        open_s.append(time.process_time() - start)
        model.sample(x, y)
        both_s.append(time.process_time() - start)
    # Processor time, so that other work on the machine does not count.
    assert min(open_s) < 0.3
    assert min(both_s) < 0.5


@settings(
    max_examples=80, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
@given(st.integers(0, 100_000), st.integers(1, 255), st.booleans())
def test_damage_is_found(tmp_path: Path, at: int, flip: int, cut: bool) -> None:
    path = tmp_path / "d.bottom"
    save_model(bowl(40, 30, 5.0), path)
    data = bytearray(path.read_bytes())
    at %= len(data)
    if cut:
        data = data[:at]
    else:
        data[at] ^= flip
    path.write_bytes(bytes(data))
    try:
        model = load_model(path)
    except LakeDataError as error:
        assert "d.bottom" in str(error) or "grid" in str(error) or str(error)
    else:
        assert np.nanmax(model.depth_m) < 13.0, "depths are covered by the checksum"


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "empty"),
        (b"something else", "not a bottom model"),
        (MAGIC + struct.pack("<HI", 99, 5), "version 99"),
        (MAGIC + struct.pack("<HI", 1, 4_000_000_000), "damaged header"),
        (MAGIC + struct.pack("<HI", 1, 2) + b"{}", "damaged"),
        (MAGIC, "cut short"),
    ],
)
def test_other_files(tmp_path: Path, data: bytes, words: str) -> None:
    path = tmp_path / "x.bottom"
    path.write_bytes(data)
    with pytest.raises(LakeDataError, match=words):
        load_model(path)


def test_unwritable_place(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(LakeDataError, match="cannot be written"):
        save_model(bowl(10, 10, 5.0), tmp_path / "file" / "x.bottom")
