"""Time of a whole day's plan on a real lake and on the demo lake, and of a new plan on the water.

Run: python bench/plan.py [--lake FILE --crs EPSG:3070 --at "43.07, -89.36"]
The contour file is found by LEADSMAN_SHARED_DATA or beside the repository, if it is there.
"""

from __future__ import annotations

import argparse
import os
import tempfile
import time
from pathlib import Path

from leadsman.kitfile.trip import demo_trip_text, parse_trip
from leadsman.usecases.plan_day import plan_day
from leadsman.usecases.plan_files import write_plan
from leadsman.usecases.plan_types import PlanAnswer
from leadsman.usecases.replan import ReplanQuestion, replan

ROOT = Path(__file__).parents[1]
MONONA = """
units = "us"
[day]
date = 2025-07-12
launch = "6:00"
deadline = "14:00"
reserve = "20 min"
zone = "America/Chicago"
[lake]
file = "{file}"
crs = "EPSG:3070"
grass = "some"
[launch]
at = "43.0632, -89.3975"
[boat]
speed = "30 mph"
no_wake_shore = "200 ft"
[weather]
wind = "8 mph from W"
[water]
clarity = "10 ft"
temperature = "76 degF"
[tackle]
kit = "demo"
"""


def shared() -> Path | None:
    """Contours of the lake, if they are on this machine."""
    folder = Path(os.environ.get("LEADSMAN_SHARED_DATA", ROOT.parent / "shared" / "data"))
    path = folder / "yahara_monona" / "monona-contours-all.shp"
    return path if path.is_file() else None


def timed(name: str, text: str) -> PlanAnswer:
    """Plan twice in this process: the first also loads compiled code."""
    for turn in ("first", "again"):
        last = [time.perf_counter(), ""]
        parts: list[str] = []

        def tell(_share: float, what: str, last=last, parts=parts) -> None:  # type: ignore[no-untyped-def]
            now = time.perf_counter()
            if last[1]:
                parts.append(f"{last[1]} {now - last[0]:.1f}")
            last[:] = [now, what]

        start, cpu = time.perf_counter(), time.process_time()
        answer = plan_day(parse_trip(text), tell)
        wall, used = time.perf_counter() - start, time.process_time() - cpu
        print(f"{name}, {turn}: {wall:.1f} s, {used:.1f} s of processor; {'; '.join(parts)}")
    print(f"  {answer.headline}")
    return answer


def main() -> None:
    """Print the times."""
    argparse.ArgumentParser(description=__doc__).parse_args()
    answer = timed("demo lake", demo_trip_text())
    path = shared()
    if path is None:
        print("real lake: skipped, its contours are not on this machine")
    else:
        answer = timed("real lake", MONONA.format(file=path.as_posix()))
    with tempfile.TemporaryDirectory() as folder:
        out = Path(folder) / "plan"
        start = time.perf_counter()
        write_plan(answer, out)
        print(f"writing the folder: {time.perf_counter() - start:.1f} s")
        start = time.perf_counter()
        again = replan(ReplanQuestion(out, 9.5 * 3600.0, done=("1", "2"), taken=("3",)))
        print(f"new plan on the water: {time.perf_counter() - start:.2f} s; {again.headline}")


if __name__ == "__main__":
    main()
