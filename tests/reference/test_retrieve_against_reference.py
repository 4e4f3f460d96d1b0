"""The production retrieve against the independent slow solver, over 200 random retrieves."""

from __future__ import annotations

import json
import math
from functools import lru_cache
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from leadsman.hydro.bottom_profile import BottomProfile
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.lure_forces import LureForces
from leadsman.hydro.retrieve import retrieve, retrieve_batch
from leadsman.hydro.retrieve_result import Retrieve
from leadsman.hydro.technique import Technique

FROZEN = Path(__file__).parent / "reference_retrieves.json"

SHALLOW_M = 0.03  # what counts as agreement for the shallowest lures


@lru_cache
def _frozen() -> list[dict[str, Any]]:
    return list(json.loads(FROZEN.read_text(encoding="utf-8"))["retrieves"])


def _setup(inputs: dict[str, float]) -> tuple[LureForces, LineProperties, Technique]:
    lure = LureForces(
        math.radians(inputs["dive_angle_deg"]),
        inputs["pull_area_m2"],
        inputs["mass_kg"],
        inputs["buoyancy_n"],
    )
    line = LineProperties(inputs["diameter_m"], inputs["density_kg_m3"], inputs["modulus_pa"])
    technique = Technique.steady(
        inputs["cast_m"], inputs["tip_m"], inputs["speed_m_s"], inputs["boat_m_s"]
    )
    return lure, line, technique


def _contacts() -> list[dict[str, Any]]:
    return [one for one in _frozen() if "contact" in one]


@lru_cache
def _free() -> list[Retrieve]:
    return [retrieve(*_setup(one["inputs"])) for one in _frozen()]


def test_the_reference_has_converged() -> None:
    """Its own error, from three meshes, is small beside what it must tell apart."""
    frozen = _frozen()
    assert len(frozen) == 200
    for one in frozen:
        assert one["max_depth_error_m"] < max(1e-3 * one["max_depth_m"], 1e-3)
    touching = [one["contact"] for one in frozen if "contact" in one]
    assert len(touching) >= 60
    for contact in touching:
        assert contact["length_error_m"] < max(0.01 * contact["length_m"], 0.05)
        assert contact["load_error"] < 3e-3


def test_greatest_depth() -> None:
    """0.5 % at the 95th percentile (deeper than 0.3 m), 1 % at worst or 3 cm for the shallowest."""
    reference = np.array([one["max_depth_m"] for one in _frozen()])
    ours = np.array([got.max_depth_m for got in _free()])
    off = np.abs(ours - reference)
    deep = reference > 0.3
    assert np.percentile((off / np.maximum(reference, 1e-9))[deep], 95) <= 0.005
    assert np.all(off <= np.maximum(0.01 * reference, SHALLOW_M))


def test_depth_all_along() -> None:
    """The whole path: within 1 % of the greatest depth, or 5 cm, at six lengths of line."""
    for one, got in zip(_frozen(), _free(), strict=True):
        ours = np.interp(-np.array(one["line_out_m"]), -got.line_out_m, got.depth_m)
        off = np.max(np.abs(ours - np.array(one["depth_m"])))
        assert off <= max(0.01 * one["max_depth_m"], 0.05), one["inputs"]


def test_length_of_contact() -> None:
    """Within 3 % of the frozen length."""
    for one in _contacts():
        contact = one["contact"]
        bottom = BottomProfile.flat(contact["bottom_m"])
        got = retrieve_batch(*_setup(one["inputs"]), bottom)
        assert float(got.contact_m[0]) == pytest.approx(contact["length_m"], rel=0.03), one


def test_load_along_the_contact() -> None:
    """Within 0.01 at five places of the contact."""
    for one in _contacts():
        contact = one["contact"]
        got = retrieve(*_setup(one["inputs"]), BottomProfile.flat(contact["bottom_m"]))
        ours = np.interp(-np.array(contact["x_m"]), -got.x_m, got.load)
        assert np.max(np.abs(ours - np.array(contact["load"]))) <= 0.01, one


@pytest.mark.slow
def test_the_reference_run_live_gives_the_frozen_figures() -> None:
    """A few retrieves solved again by the slow solver, some 5 s."""
    from make_reference_retrieves import reference

    for number in (1, 4, 10):
        live, frozen = reference(number), _frozen()[number]
        assert live["max_depth_m"] == pytest.approx(frozen["max_depth_m"], rel=1e-4)
        if "contact" in frozen:
            assert live["contact"]["length_m"] == pytest.approx(
                frozen["contact"]["length_m"], rel=2e-3
            )


def test_a_coarse_live_reference_is_near_the_frozen_one() -> None:
    """The slow solver itself is kept working: one mesh, 48 segments."""
    from make_reference_retrieves import case_of
    from slow_retrieve import solve

    one = _frozen()[1]
    coarse = solve(case_of(one["inputs"]), 48)
    assert coarse.max_depth_m == pytest.approx(one["max_depth_m"], rel=3e-3)
