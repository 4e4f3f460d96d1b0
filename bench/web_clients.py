"""Many clients at once against `leadsman serve` on this machine: errors, answers a second, waits.

python bench/web_clients.py [--clients 200] [--seconds 60]

Every client moves a control, waits for its answer and moves on, as a page does. Traffic goes to
the loopback address only and the run ends by itself. The ratio is of the answers a second with
all clients to those with one: what the server gains from its cores, less what it loses in queues.
"""

from __future__ import annotations

import argparse
import asyncio
import os
import re
import subprocess
import sys
import tempfile
import time
from collections import Counter

import httpx
import numpy as np

LURES = ("mid-lip-10", "long-lip-15", "long-thin-lip-20", "big-lip-25")


async def client(
    there: httpx.AsyncClient, number: int, until: float, waits: list[float], told: Counter[str]
) -> None:
    """One client until the time is up."""
    moves = np.random.default_rng(number)
    while time.monotonic() < until:
        body = {
            "lure": LURES[number % len(LURES)],
            "line": "fluoro-12",
            "cast_m": float(moves.uniform(20.0, 60.0)),
            "bottom": [{"depth_m": float(moves.uniform(2.0, 6.0))}],
            "draws": 32,
        }
        began = time.monotonic()
        try:
            answer = await there.post("api/depth", json=body)
            told[str(answer.status_code)] += 1
        except httpx.HTTPError as error:
            told[type(error).__name__] += 1
        waits.append(time.monotonic() - began)


async def crowd(url: str, clients: int, seconds: float) -> tuple[float, np.ndarray, Counter[str]]:
    """Answers a second, waits [s] and what was answered; each client has a connection."""
    waits: list[float] = []
    told: Counter[str] = Counter()
    limits = httpx.Limits(max_connections=clients, max_keepalive_connections=clients)
    async with httpx.AsyncClient(
        base_url=url, timeout=120.0, limits=limits, trust_env=False
    ) as there:
        began = time.monotonic()
        until = began + seconds
        await asyncio.gather(*(client(there, n, until, waits, told) for n in range(clients)))
        spent = time.monotonic() - began
    return told["200"] / spent, np.array(waits), told


def main() -> int:
    """Run and print."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--clients", type=int, default=200)
    parser.add_argument("--seconds", type=float, default=60.0)
    args = parser.parse_args()
    with tempfile.TemporaryDirectory() as folder:
        process = subprocess.Popen(
            [sys.executable, "-m", "leadsman", "serve", "--no-browser", "--port", "0"],
            cwd=folder,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            text=True,
        )
        try:
            assert process.stdout is not None
            url = next(
                found.group(0)
                for line in process.stdout
                if (found := re.search(r"http://localhost:\d+/", line))
            )
            alone, waits_alone, _ = asyncio.run(crowd(url, 1, min(10.0, args.seconds)))
            rate, waits, told = asyncio.run(crowd(url, args.clients, args.seconds))
        finally:
            process.terminate()
            process.wait(15)
    failed = sum(count for what, count in told.items() if what != "200")
    print(f"{os.cpu_count()} cores; load {os.getloadavg()[0]:.1f}")
    print(f"1 client: {alone:.0f} answers/s, median wait {1e3 * np.median(waits_alone):.0f} ms")
    print(
        f"{args.clients} clients for {args.seconds:.0f} s: {rate:.0f} answers/s, median wait "
        f"{np.median(waits):.2f} s, 95th percentile {np.quantile(waits, 0.95):.2f} s, "
        f"{failed} failed {dict(told)}"
    )
    print(f"ratio {rate / alone:.2f}")
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
