"""Real data lent to the project: used when it is there, never committed."""

from __future__ import annotations

import os
from pathlib import Path

import pytest


def _folder() -> Path:
    given = os.environ.get("LEADSMAN_SHARED_DATA")
    if given:
        return Path(given)
    return Path(__file__).resolve().parents[3] / "shared" / "data"


@pytest.fixture
def shared_data():
    """Give the path of a lent file, or skip."""

    def find(name: str) -> Path:
        path = _folder() / name
        if not path.exists():
            pytest.skip(f"real data {name} is not here (set LEADSMAN_SHARED_DATA)")
        return path

    return find
