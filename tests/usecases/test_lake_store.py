"""Lakes under their names: whole or not at all, whatever is in the folder."""

from __future__ import annotations

import json
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from leadsman.errors import InputError, LakeDataError
from leadsman.lake.grass_edge import edge_from_secchi
from leadsman.usecases import lake_store
from leadsman.usecases.lake_store import (
    find_lake,
    folder_name,
    keep_edge,
    list_lakes,
    open_lake,
    remove_lake,
    save_lake,
)


def test_there_and_back(own_lakes: Path) -> None:
    lake = open_lake("cone", own_lakes)
    again = save_lake(lake.model, replace(lake.record, name="Twin"), lake.tracks(), own_lakes)
    back = open_lake("Twin", own_lakes)
    assert again.record == back.record
    np.testing.assert_allclose(back.model.depth_m, lake.model.depth_m, atol=0.003)
    for one, two in zip(lake.tracks(), back.tracks(), strict=True):
        np.testing.assert_allclose(one.lon_deg, two.lon_deg, atol=2e-7)
    assert [record.name for record in list_lakes(own_lakes)] == ["Cone", "Twin"]


@pytest.mark.parametrize(
    ("name", "folder"),
    [
        ("Quillfeather Lake", "quillfeather-lake"),
        ("  Otter  Tail! ", "otter-tail"),
        ("Lac à l'Épée", "lac-à-l-épée"),
        ("../../etc", "etc"),
        ("CON", "con-lake"),
        ("湖", "湖"),
    ],
)
def test_names_become_folders_that_stay_inside(name: str, folder: str) -> None:
    assert folder_name(name) == folder


@pytest.mark.parametrize("name", ["", "...", "/", "x" * 61])
def test_names_that_are_none(name: str) -> None:
    with pytest.raises(InputError, match="name of a lake"):
        folder_name(name)


def test_a_beginning_is_enough_if_it_is_plain(own_lakes: Path) -> None:
    lake = open_lake("co", own_lakes)
    save_lake(lake.model, replace(lake.record, name="Cove"), (), own_lakes)
    assert find_lake("con", own_lakes).name == "cone"
    with pytest.raises(InputError, match="several lakes"):
        find_lake("co", own_lakes)
    with pytest.raises(InputError, match="It holds: Cone, Cove"):
        find_lake("Elsewhere", own_lakes)


def test_saving_leaves_no_old_files(own_lakes: Path) -> None:
    lake = open_lake("Cone", own_lakes)
    tracks = lake.tracks()
    for _ in range(3):
        save_lake(lake.model, lake.record, tracks, own_lakes)
    assert len(list(lake.folder.iterdir())) == 3


def test_a_disk_that_fills_up_keeps_the_old_lake(
    own_lakes: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    lake = open_lake("Cone", own_lakes)
    before = sorted(path.name for path in lake.folder.iterdir())

    def full(path: Path, data: bytes) -> None:
        raise LakeDataError("cannot be written (No space left on device)", path)

    monkeypatch.setattr(lake_store, "write_atomically", full)
    with pytest.raises(InputError, match="No space"):
        save_lake(lake.model, lake.record, lake.tracks(), own_lakes)
    assert sorted(path.name for path in lake.folder.iterdir()) == before
    assert open_lake("Cone", own_lakes).record == lake.record


@pytest.mark.parametrize(
    "spoil",
    [
        lambda text: text[: len(text) // 2],
        lambda text: text.replace('"version":1', '"version":9').replace(
            '"version": 1', '"version": 9'
        ),
        lambda text: json.dumps({**json.loads(text), "bottom_file": "../../../etc/passwd"}),
        lambda text: "[]",
        lambda text: "{" * 5000,
    ],
    ids=["cut", "version", "outside", "empty", "deep"],
)
def test_a_damaged_record_is_told(own_lakes: Path, spoil) -> None:
    path = own_lakes / "cone" / "lake.json"
    path.write_text(spoil(path.read_text()))
    with pytest.raises(InputError, match=r"damaged|version"):
        open_lake("Cone", own_lakes)


def test_damaged_grids_and_tracks_are_told(own_lakes: Path) -> None:
    lake = open_lake("Cone", own_lakes)
    tracks = lake.folder / str(lake.record.tracks_file)
    tracks.write_bytes(tracks.read_bytes()[:100])
    with pytest.raises(InputError, match="damaged"):
        lake.tracks()
    grid = lake.folder / lake.record.bottom_file
    grid.write_bytes(grid.read_bytes()[:-50])
    with pytest.raises(InputError, match=r"damaged|cut short"):
        open_lake("Cone", own_lakes)


def test_edge_is_kept_and_forgotten(own_lakes: Path) -> None:
    edge = edge_from_secchi(2.5)
    keep_edge(open_lake("Cone", own_lakes), edge)
    kept = open_lake("Cone", own_lakes)
    assert kept.record.edge == edge
    keep_edge(kept, None)
    assert open_lake("Cone", own_lakes).record.edge is None


def test_removing_needs_the_whole_name_and_spares_strange_files(own_lakes: Path) -> None:
    with pytest.raises(InputError, match="whole name"):
        remove_lake("Con", own_lakes)
    mine = own_lakes / "cone" / "notes.txt"
    mine.write_text("mine")
    with pytest.raises(InputError, match=r"notes\.txt"):
        remove_lake("Cone", own_lakes)
    mine.unlink()
    assert remove_lake("Cone", own_lakes).name == "Cone"
    assert not (own_lakes / "cone").exists()
