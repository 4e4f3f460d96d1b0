"""Our steady tow against `moordyn` on the same case at equal error, in one run.

    python bench/tow_vs_moordyn.py              runs both (some 15 s)
    python bench/tow_vs_moordyn.py --check      exits 1 if the ratio is under 20,000

`moordyn` is a general dynamic code that has to settle; ours solves the steady
state only. Both stand within 0.05 % of each other, which is checked before any
time is printed.
"""

from __future__ import annotations

import argparse
import json
import subprocess
import sys
import time
from pathlib import Path

from leadsman.hydro.drag import DragLaw
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.tow import Tow, tow
from leadsman.water import Water

SCRIPT = Path(__file__).parents[1] / "tests" / "reference" / "make_moordyn_tow.py"
LEAST_RATIO = 20_000.0
REPEATS = 2_000


def ours() -> Tow:
    """The case of `make_moordyn_tow.py`, number 0."""
    line = LineProperties(0.35e-3, 1000.0, 2e9)
    drag = DragLaw(normal_constant=1.2, tangential=0.015)
    return tow(line, 40.0, 1.5, 3.0, 2.5, 0.0, Water(1000.0, 1e-3), drag)


def main() -> int:
    """Run both, print the ratio."""
    parser = argparse.ArgumentParser(description="steady tow: ours against moordyn")
    parser.add_argument("--check", action="store_true")
    given = parser.parse_args()
    done = subprocess.run(
        [sys.executable, str(SCRIPT), "--case", "0"], capture_output=True, text=True, check=True
    )
    theirs = json.loads(done.stdout[done.stdout.rindex("{") :])
    got = ours()  # compiles
    began = time.perf_counter()
    for _ in range(REPEATS):
        ours()
    seconds = (time.perf_counter() - began) / REPEATS
    apart = abs(got.depth_m / theirs["depth_m"] - 1.0)
    ratio = theirs["seconds"] / seconds
    print(f"moordyn   depth {theirs['depth_m']:.6f} m   {theirs['seconds']:.1f} s")
    print(f"leadsman  depth {got.depth_m:.6f} m   {seconds * 1e6:.1f} us")
    print(f"apart     {apart:.5%} of depth")
    print(f"ratio     {ratio:,.0f} times faster")
    if apart > 5e-4:
        print("The two do not agree within 0.05 %: the times cannot be compared.")
        return 1
    return 1 if given.check and ratio < LEAST_RATIO else 0


if __name__ == "__main__":
    raise SystemExit(main())
