"""A process that writes events and says which were acknowledged, until it is killed.

Run as a script: path, device, count of events (0 for ever), batch size.
"""

from __future__ import annotations

import sys
from pathlib import Path

from leadsman.waterlog.events import Bite, Event
from leadsman.waterlog.store import Waterlog


def main() -> None:
    """Append batches and print the ids of each once it is acknowledged."""
    path, device, count, batch = Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]), int(sys.argv[4])
    first = int(sys.argv[5]) if len(sys.argv) > 5 else 0
    with Waterlog(path) as log:
        print("ready", flush=True)
        seq = first
        while count == 0 or seq < first + count:
            events = [
                Event(f"{device}-{n:08d}", "trip", device, n, 1.7e9 + n, Bite())
                for n in range(seq, seq + batch)
            ]
            log.append(events)
            print(*[e.id for e in events], flush=True)
            seq += batch


if __name__ == "__main__":
    main()
