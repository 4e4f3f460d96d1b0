"""What can be seen of a lure."""

from __future__ import annotations

import pytest

from leadsman.calibrate.evidence import (
    DidNotReach,
    Fished,
    MeasuredDepth,
    PullOnScale,
    Ticked,
    TimeToBottom,
)
from leadsman.errors import LogError
from leadsman.hydro.line_properties import LineProperties
from leadsman.hydro.technique import Technique

LINE = LineProperties(0.3e-3, 1140.0, 1.6e9)
WAY = Technique.steady(50.0)
FISHED = Fished(LINE, "l", 0.02, WAY)


@pytest.mark.parametrize(
    "make",
    [
        lambda: Ticked(FISHED, 0.0),
        lambda: Ticked(FISHED, float("nan")),
        lambda: DidNotReach(FISHED, 4.0, 0.0),
        lambda: MeasuredDepth(FISHED, 400.0),
        lambda: TimeToBottom(FISHED, 4.0, 0.0),
        lambda: PullOnScale(0.0, 1.3),
        lambda: PullOnScale(2.0, 13.0),
        lambda: PullOnScale(2.0, 1.3, 0.0),
        lambda: Fished(LINE, "l", -0.1, WAY),
        lambda: Fished(LINE, "l", 0.1, WAY, casts=0),
    ],
)
def test_impossible_evidence(make) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(LogError):
        make()
