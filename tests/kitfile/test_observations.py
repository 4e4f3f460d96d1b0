"""The append-only file of observations."""

from __future__ import annotations

import threading
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from leadsman.errors import LogError
from leadsman.kitfile.observation import COLUMNS
from leadsman.kitfile.observations import append_observation, read_observations

CELLS = {
    "date": "2026-06-21", "lure": "a", "kind": "ticked", "depth": "17 ft", "line": "l",
    "cast": "60 yd", "note": 'over "the" ledge, wind',
}  # fmt: skip
DOCS = Path(__file__).parents[2] / "docs" / "observations.md"


def test_missing_file_holds_none(tmp_path: Path) -> None:
    assert read_observations(tmp_path / "observations.csv") == ()


def test_what_is_added_is_read_again(tmp_path: Path) -> None:
    path = tmp_path / "observations.csv"
    first = append_observation(path, CELLS)
    append_observation(path, {**CELLS, "kind": "pull", "pull": "0.5 lb", "speed": "3 mph"})
    rows = read_observations(path)
    assert [row.kind for row in rows] == ["ticked", "pull"]
    assert (rows[0].depth_m, rows[0].note) == (first.depth_m, CELLS["note"])
    assert [row.row for row in rows] == [2, 3]


def test_nothing_that_stands_there_is_changed(tmp_path: Path) -> None:
    path = tmp_path / "observations.csv"
    mine = "# mine\r\nlure, date ,kind\r\na,2026-01-01,retuned"  # own order, no last newline
    path.write_bytes(mine.encode())
    append_observation(path, {"date": "2026-02-02", "lure": "b", "kind": "retuned"})
    assert path.read_bytes().startswith(mine.encode())
    assert [row.lure for row in read_observations(path)] == ["a", "b"]
    with pytest.raises(LogError, match="no column 'depth'"):
        append_observation(path, CELLS)


def test_a_mistake_writes_nothing(tmp_path: Path) -> None:
    path = tmp_path / "observations.csv"
    with pytest.raises(LogError):
        append_observation(path, {**CELLS, "depth": "17"})
    assert not path.exists()
    path.write_text("date,lure,kind\nyesterday,a,retuned\n")
    with pytest.raises(LogError, match="line 2"):
        append_observation(path, {"date": "2026-02-02", "lure": "b", "kind": "retuned"})
    assert path.read_text() == "date,lure,kind\nyesterday,a,retuned\n"
    with pytest.raises(LogError, match="cannot be written"):
        append_observation(tmp_path / "none" / "o.csv", CELLS)


def test_a_line_break_in_a_note_stays_one_row(tmp_path: Path) -> None:
    path = tmp_path / "observations.csv"
    append_observation(path, {**CELLS, "note": "one\ntwo\r\nthree"})
    assert path.read_text().count("\n") == 2
    assert read_observations(path)[0].note == "one two three"


def test_two_at_once_both_arrive_whole(tmp_path: Path) -> None:
    path = tmp_path / "observations.csv"
    append_observation(path, CELLS)

    def add(name: str) -> None:
        for _ in range(20):
            append_observation(path, {**CELLS, "lure": name})

    threads = [threading.Thread(target=add, args=(name,)) for name in "bcd"]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    names = [row.lure for row in read_observations(path)]
    assert len(names) == 61 and all(names.count(name) == 20 for name in "bcd")


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("date,lure\n", "no column 'kind'"),
        ("date,lure,kind,dept\n", "Perhaps 'depth'"),
        ("date,lure,kind,kind\n", "twice"),
        ("date,lure,kind\n2026-01-01,a,retuned,x\n", "4 cells for 3 columns"),
        ('date,lure,kind\n"2026-01-01,a,retuned\n', "not readable as CSV"),
        ("date,lure,kind\n2026-01-01,a\n", "'kind' is empty"),
    ],
)
def test_files_with_mistakes(tmp_path: Path, text: str, says: str) -> None:
    path = tmp_path / "observations.csv"
    path.write_text(text)
    with pytest.raises(LogError, match=says):
        read_observations(path)


def test_files_that_are_none(tmp_path: Path) -> None:
    with pytest.raises(LogError, match="cannot be opened"):
        read_observations(tmp_path)
    path = tmp_path / "o.csv"
    path.write_bytes(b"date,lure,kind\n\xff\xfe\n")
    with pytest.raises(LogError, match="not UTF-8"):
        read_observations(path)


@given(st.text(max_size=80))
def test_any_text_is_read_or_refused(text: str) -> None:
    import tempfile

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "o.csv"
        path.write_text("date,lure,kind,note\n" + text, "utf-8", newline="")
        try:
            read_observations(path)
        except LogError as error:
            assert error.message


def test_every_column_is_documented() -> None:
    text = DOCS.read_text("utf-8")
    for column in COLUMNS:
        assert f"| `{column}` |" in text
