"""How long the command line takes to start: cold (nothing compiled), warm, and bare.

    python bench/cli_start.py

Cold uses an empty folder for the compiled kernels, so it pays for compiling them. Bare is
`leadsman --version`, which loads no physics. Ratios are to the warm start, in one run.
"""

from __future__ import annotations

import os
import statistics
import subprocess
import sys
import tempfile
import time

DEPTH = ("depth", "--lure", "mid-lip-12", "--line", "fluoro-12", "--bottom", "10 ft", "--json")
REPEATS = 5


def run(words: tuple[str, ...], cache: str | None = None) -> float:
    """Seconds that one command takes."""
    environment = dict(os.environ)
    if cache is not None:
        environment["NUMBA_CACHE_DIR"] = cache
    started = time.perf_counter()
    subprocess.run(
        [sys.executable, "-m", "leadsman", *words],
        check=True,
        stdout=subprocess.DEVNULL,
        env=environment,
    )
    return time.perf_counter() - started


def main() -> None:
    """Print the figures."""
    print(f"load average {os.getloadavg()[0]:.1f}")
    run(DEPTH)
    warm = statistics.median(run(DEPTH) for _ in range(REPEATS))
    bare = statistics.median(run(("--version",)) for _ in range(REPEATS))
    with tempfile.TemporaryDirectory() as cache:
        cold = run(DEPTH, cache)
    print(f"warm `leadsman depth`  {warm:6.2f} s, median of {REPEATS}, ratio 1")
    print(f"bare `leadsman`        {bare:6.2f} s, ratio {bare / warm:.2f}")
    print(f"cold `leadsman depth`  {cold:6.2f} s, ratio {cold / warm:.1f}")


if __name__ == "__main__":
    main()
