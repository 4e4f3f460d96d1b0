"""Lines of fields, counted by hand."""

from __future__ import annotations

import pytest

from leadsman.kitfile.locate import line_of

TEXT = '''# a note: [lures.a] is not a table here
units = "us"
[lures."long lip, 20 ft"]   # note
mass = "1 oz"
note = """
mass = "not this"
"""
sound = "silent"
[lures.b]
mass = "2 oz"
lines.x = 1
[[angler.casts]]
mass = "3 oz"
[[angler.casts]]
mass = "4 oz"
[reels]
slow.capacity = "120 yd"
'''


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("units",), 2),
        (("lures", "long lip, 20 ft"), 3),
        (("lures", "long lip, 20 ft", "mass"), 4),
        (("lures", "long lip, 20 ft", "sound"), 8),
        (("lures", "long lip, 20 ft", "lip_width"), 3),
        (("lures", "b", "mass"), 10),
        (("lures", "b", "lines", "x"), 11),
        (("angler", "casts", 0, "mass"), 13),
        (("angler", "casts", 1, "mass"), 15),
        (("angler", "casts", 1, "length"), 14),
        (("reels", "slow", "capacity"), 17),
        (("lures",), 3),
        (("rods", "a"), None),
    ],
)
def test_line(path: tuple[str | int, ...], line: int | None) -> None:
    assert line_of(TEXT, path) == line
