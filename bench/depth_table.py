"""The depth table of a large kit: 40 lures x 6 lines x 6 casts x 3 rod positions, with bands.

    python bench/depth_table.py

Beside it the same depths one at a time, as a ratio in the same run.
"""

from __future__ import annotations

import os
import tempfile
import time
from pathlib import Path

import tomlkit

from leadsman.calibrate.learned import Learned
from leadsman.hydro.retrieve import retrieve, warm_up
from leadsman.hydro.technique import Technique
from leadsman.kitfile.read import read_kit
from leadsman.kitfile.template import demo_kit_text
from leadsman.tackle.line import line_properties
from leadsman.usecases.depth_table import CASTS_M, TableQuestion, find_depth_table
from leadsman.usecases.questions import SetupQuestion

LURES = 40
SAMPLE = 200


def large_kit(folder: Path) -> Path:
    """A kit of 40 lures: the demo's, copied under other names."""
    kit = tomlkit.parse(demo_kit_text())
    lures = list(kit["lures"].items())
    many = tomlkit.table()
    for number in range(LURES):
        name, lure = lures[number % len(lures)]
        many[f"{name}-{number}"] = lure.unwrap()
    kit["lures"] = many
    path = folder / "kit.toml"
    path.write_text(tomlkit.dumps(kit), encoding="utf-8")
    return path


def main() -> None:
    """Print the figures."""
    warm_up()
    print(f"load average {os.getloadavg()[0]:.1f}")
    with tempfile.TemporaryDirectory() as folder:
        path = large_kit(Path(folder))
        kit = read_kit(path)
        find_depth_table(TableQuestion(SetupQuestion(kit=path, lure=kit.lures[0].name)))
        started = time.perf_counter()
        answer = find_depth_table(TableQuestion(SetupQuestion(kit=path)))
        spent = time.perf_counter() - started
    table = answer.table
    cells = table.depth_m.size
    print(f"{cells} depths with bands: {spent:.1f} s")
    known = Learned()
    lure, line = known.belief(kit.lures[6]).centre, line_properties(kit.lines[1])
    ways = [Technique.steady(CASTS_M[n % 4], 0.6) for n in range(SAMPLE)]
    started = time.perf_counter()
    for way in ways:
        retrieve(lure, line, way)
    each = (time.perf_counter() - started) / SAMPLE
    print(f"one depth without a band, one at a time: {each * 1e3:.2f} ms")
    print(f"ratio of a depth with its band to one without: {spent / cells / each:.1f}")


if __name__ == "__main__":
    main()
