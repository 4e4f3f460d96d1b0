"""Nothing acknowledged is lost, nothing doubled, and the file opens."""

from __future__ import annotations

import os
import random
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from leadsman.errors import LogError
from leadsman.waterlog.events import Bite, Event, Fish, Note
from leadsman.waterlog.schema import MIGRATIONS
from leadsman.waterlog.store import Waterlog, salvage

WRITER = Path(__file__).with_name("crash_writer.py")


def bite(n: int, device: str = "phone") -> Event:
    return Event(f"{device}-{n:08d}", "trip", device, n, 1.7e9 + n, Bite())


def start_writer(
    path: Path, device: str, count: int, batch: int, first: int = 0
) -> subprocess.Popen[str]:
    args = [sys.executable, str(WRITER), str(path), device, str(count), str(batch), str(first)]
    return subprocess.Popen(args, stdout=subprocess.PIPE, text=True)


def whole_lines(text: str) -> list[str]:
    """Ids on lines that were written to their end: those were acknowledged."""
    lines = text.split("\n")[:-1]
    return [word for line in lines for word in line.split() if word != "ready"]


def test_events_come_back_as_written(tmp_path: Path) -> None:
    events = [
        bite(1),
        Event("fish-0000001", "trip", "phone", 2, 1.7e9, Fish(0.41, None, "kept"), 12.5, "s1"),
        Event("note-0000001", "trip", "phone", 3, 1.7e9, Note("grüße, 12 ft 'edge'")),
    ]
    with Waterlog(tmp_path / "log.db") as log:
        assert log.append(events).new == tuple(e.id for e in events)
    with Waterlog(tmp_path / "log.db") as log:
        assert log.events() == events
        assert log.events("other") == []
        assert log.trips() == [("trip", 1.7e9, 3)]


def test_the_same_batch_three_times_is_written_once(tmp_path: Path) -> None:
    batch = [bite(n) for n in range(20)]
    with Waterlog(tmp_path / "log.db") as log:
        assert len(log.append(batch).new) == 20
        for _ in range(2):
            again = log.append(batch)
            assert again.new == () and len(again.known) == 20
        assert log.append([*batch, bite(20)]).new == ("phone-00000020",)
        assert log.count() == 21


def test_an_id_with_another_content_is_refused_and_nothing_of_the_batch_written(
    tmp_path: Path,
) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        log.append([bite(1)])
        other = Event("phone-00000001", "trip", "phone", 1, 1.7e9 + 1, Note("not a bite"))
        with pytest.raises(LogError, match="another content"):
            log.append([bite(2), other])
        assert [e.id for e in log.events()] == ["phone-00000001"]


def test_events_can_be_neither_changed_nor_deleted(tmp_path: Path) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        log.append([bite(1)])
    db = sqlite3.connect(tmp_path / "log.db")
    for sql in ("UPDATE event SET trip = 'x'", "DELETE FROM event"):
        with pytest.raises(sqlite3.IntegrityError, match="never"):
            db.execute(sql)
    with pytest.raises(sqlite3.IntegrityError):  # STRICT
        db.execute("INSERT INTO event VALUES (9,'a','b','c','not a number',0,0,'s','k','{}',0)")
    db.close()


def test_settings_of_the_file(tmp_path: Path) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        one = lambda sql: log._db.execute(sql).fetchone()[0]  # noqa: E731
        assert one("PRAGMA journal_mode") == "wal"
        assert one("PRAGMA synchronous") == 2  # FULL
        assert one("PRAGMA user_version") == len(MIGRATIONS)


def test_an_older_file_is_brought_up_and_a_newer_one_refused(tmp_path: Path) -> None:
    path = tmp_path / "log.db"
    with Waterlog(path) as log:
        log.append([bite(1)])
    db = sqlite3.connect(path)
    db.execute("DROP TABLE day_summary")
    db.execute("PRAGMA user_version = 1")
    db.close()
    with Waterlog(path) as log:
        assert log.count() == 1
        assert log.summaries("p") == {}
    db = sqlite3.connect(path)
    db.execute(f"PRAGMA user_version = {len(MIGRATIONS) + 1}")
    db.close()
    with pytest.raises(LogError, match="newer version"):
        Waterlog(path)


def test_files_that_are_no_logs_are_refused_untouched(tmp_path: Path) -> None:
    text = tmp_path / "text.db"
    text.write_text("this is no database at all, but it is long enough to look like a page" * 20)
    before = text.read_bytes()
    with pytest.raises(LogError):
        Waterlog(text)
    assert text.read_bytes() == before
    other = tmp_path / "other.db"
    db = sqlite3.connect(other)
    db.execute("CREATE TABLE mine (x)")
    db.commit()
    db.close()
    with pytest.raises(LogError, match="not a log"):
        Waterlog(other)
    with pytest.raises(LogError, match="folder"):
        Waterlog(tmp_path / "missing" / "log.db")


def kill_at_random(tmp_path: Path, rounds: int, seed: int) -> None:
    rng = random.Random(seed)
    path = tmp_path / "log.db"
    acknowledged: list[str] = []
    first = 0
    for _ in range(rounds):
        writer = start_writer(path, "phone", 0, rng.choice([1, 1, 1, 7]), first)
        assert writer.stdout is not None
        assert writer.stdout.readline() == "ready\n"
        time.sleep(rng.uniform(0.0, 0.06))
        os.kill(writer.pid, signal.SIGKILL)
        acknowledged += whole_lines(writer.communicate()[0])
        first += 1_000_000 // 500
        with Waterlog(path) as log:
            found = [e.id for e in log.events()]
        assert len(found) == len(set(found))
        assert set(acknowledged) <= set(found)
    assert len(acknowledged) > rounds / 2


def test_kill_9_during_writes_loses_nothing(tmp_path: Path) -> None:
    kill_at_random(tmp_path, 8, seed=1)


@pytest.mark.slow
def test_kill_9_at_500_random_moments_loses_nothing(tmp_path: Path) -> None:
    kill_at_random(tmp_path, 500, seed=2)


def test_a_full_disk_loses_nothing_acknowledged(tmp_path: Path) -> None:
    # A limit on the size of any file this process writes stands in for the full disk.
    path = tmp_path / "log.db"
    script = f"""
import resource, signal, sys
sys.path.insert(0, {str(WRITER.parent)!r})
from pathlib import Path
from leadsman.errors import LogError
from leadsman.waterlog.events import Event, Note
from leadsman.waterlog.store import Waterlog
signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, resource.getrlimit(resource.RLIMIT_FSIZE)[1]))
log = Waterlog(Path({str(path)!r}))
for n in range(100_000):
    try:
        log.append([Event(f"note-{{n:08d}}", "t", "d", n, 1.7e9, Note("x" * 700))])
    except LogError as error:
        print("refused", error, flush=True)
        break
    print(f"note-{{n:08d}}", flush=True)
"""
    done = subprocess.run(
        [sys.executable, "-c", script], capture_output=True, text=True, check=True
    )
    *lines, last = done.stdout.splitlines()
    assert last.startswith("refused") and "disk is full" in last and "send it again" in last
    assert len(lines) > 50
    with Waterlog(path) as log:  # room again
        found = [e.id for e in log.events()]
        assert found[: len(lines)] == lines and len(found) <= len(lines) + 1
        log.append([bite(1)])
        assert log.count() == len(found) + 1


def test_a_copy_of_the_one_file_between_writes_holds_everything(tmp_path: Path) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        for n in range(30):
            log.append([bite(n)])
            copy = tmp_path / f"copy{n}.db"
            shutil.copyfile(tmp_path / "log.db", copy)  # still open, and only the main file
            with Waterlog(copy) as copied:
                assert copied.count() == n + 1
        log.copy_to(tmp_path / "made.db")
        with Waterlog(tmp_path / "made.db") as made:
            assert made.events() == log.events()
        with pytest.raises(LogError, match="exists"):
            log.copy_to(tmp_path / "made.db")


def test_a_copy_in_the_middle_of_writes_opens_or_is_salvaged(tmp_path: Path) -> None:
    path = tmp_path / "log.db"
    writer = start_writer(path, "phone", 0, 5)
    assert writer.stdout is not None
    acknowledged: list[str] = []
    try:
        for n in range(12):
            acknowledged += whole_lines(writer.stdout.readline())
            acknowledged += whole_lines(writer.stdout.readline())
            copy = tmp_path / f"copy{n}.db"
            shutil.copyfile(path, copy)
            try:
                with Waterlog(copy) as log:
                    found = {e.id for e in log.events()}
            except LogError:
                salvage(copy, tmp_path / f"fresh{n}.db")
                with Waterlog(tmp_path / f"fresh{n}.db") as log:
                    found = {e.id for e in log.events()}
            assert set(acknowledged) <= found
    finally:
        writer.kill()
        writer.communicate()
    assert len(acknowledged) >= 100


def test_salvage_reads_past_a_broken_index(tmp_path: Path) -> None:
    path = tmp_path / "log.db"
    with Waterlog(path) as log:
        log.append([bite(n) for n in range(2000)])
        root = log._db.execute(
            "SELECT rootpage FROM sqlite_master WHERE name='event_id'"
        ).fetchone()
        size = log._db.execute("PRAGMA page_size").fetchone()[0]
    data = bytearray(path.read_bytes())
    data[(root[0] - 1) * size : root[0] * size] = b"\xff" * size
    path.write_bytes(data)
    with pytest.raises(LogError, match="damaged"):
        Waterlog(path)
    assert salvage(path, tmp_path / "fresh.db") == 2000
    with Waterlog(tmp_path / "fresh.db") as log:
        assert log.count() == 2000


def test_two_devices_at_once_lose_and_double_nothing(tmp_path: Path) -> None:
    path = tmp_path / "log.db"
    with Waterlog(path):
        pass
    writers = [start_writer(path, device, 60, 2) for device in ("phone", "laptop")]
    said = [set(whole_lines(w.communicate(timeout=60)[0])) for w in writers]
    assert all(w.returncode == 0 for w in writers)
    with Waterlog(path) as log:
        events = log.events()
    assert len(events) == 120
    assert said[0] | said[1] == {e.id for e in events}


def test_a_file_that_cannot_be_written_says_so(tmp_path: Path) -> None:
    log = Waterlog(tmp_path / "log.db")
    log._db.execute("PRAGMA query_only = ON")
    with pytest.raises(LogError, match=r"cannot be written|failed"):
        log.append([bite(1)])
    log.close()


def test_summaries_are_kept_by_day_and_physics(tmp_path: Path) -> None:
    with Waterlog(tmp_path / "log.db") as log:
        log.keep_summaries("p1", {"a": (3, "x"), "b": (5, "y")})
        log.keep_summaries("p1", {"a": (4, "z")})
        assert log.summaries("p1") == {"a": (4, "z"), "b": (5, "y")}
        assert log.summary("a", "p1") == (4, "z")
        assert log.summary("a", "p2") is None
