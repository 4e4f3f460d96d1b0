"""`leadsman passes` as typed."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from pass_cases import model_of, slope
from typer.testing import CliRunner

from leadsman.cli.app import app
from leadsman.errors import InputError
from leadsman.lake.model_file import save_model


@pytest.fixture(scope="module")
def lake(tmp_path_factory: pytest.TempPathFactory) -> str:
    path = tmp_path_factory.mktemp("lake") / "slope.bottom"
    save_model(model_of(slope), path)
    return str(path)


def run(*words: str) -> object:
    return CliRunner().invoke(app, ["passes", *words])


def test_answer_first_then_the_table(lake: str) -> None:
    said = run("--lake", lake, "--depth", "12 ft", "--lure", "long-lip-15", "--line", "fluoro-10",
               "--boat", "hold", "--minutes", "10", "--tips", "low", "--json")  # fmt: skip
    assert said.exit_code == 0, said.output  # type: ignore[attr-defined]
    document = json.loads(said.stdout)  # type: ignore[attr-defined]
    assert document["schema"] == "leadsman.passes/1"
    assert document["passes"][0]["minutes"] <= 10.0
    assert document["headline"].startswith("Stretch 1: ")


def test_a_wrong_picture_name_is_refused_before_anything_is_computed(tmp_path: Path) -> None:
    said = run("--depth", "12 ft", "--picture", str(tmp_path / "pass.doc"))
    assert said.exit_code != 0  # type: ignore[attr-defined]
    assert isinstance(said.exception, InputError | SystemExit)  # type: ignore[attr-defined]
