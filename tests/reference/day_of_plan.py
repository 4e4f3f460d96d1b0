"""A short day on the invented lake with a small kit, planned once for several tests."""

from __future__ import annotations

from pathlib import Path

from leadsman.kitfile.trip import demo_trip_text, parse_trip
from leadsman.kitfile.trip_types import Trip
from leadsman.lake.bottom_model import BottomModel
from leadsman.lake.demo_lake import FRAME, true_depth_m
from leadsman.lake.lattice import Lattice

KIT = """
units = "us"
[angler]
usual_cast = "60 yd"
[[angler.casts]]
mass = "3/4 oz"
length = "60 yd"
rod = "7 ft 10 in"
[lures.square-5]
body_length = "2 3/8 in"
lip_length = "0.5 in"
lip_width = "0.7 in"
lip_shape = "square"
mass = "1/2 oz"
rated_depth = "5 ft"
sound = "rattling"
[lures.mid-10]
body_length = "2 1/8 in"
lip_length = "0.85 in"
lip_width = "0.7 in"
mass = "1/2 oz"
rated_depth = "10 ft"
sound = "silent"
[lures.long-15]
body_length = "2 1/2 in"
lip_length = "1.2 in"
lip_width = "0.8 in"
mass = "5/8 oz"
rated_depth = "15 ft"
rated_line_test = "12 lb"
sound = "silent"
model = "long 15"
[lures.long-15-loud]
body_length = "2 1/2 in"
lip_length = "1.2 in"
lip_width = "0.8 in"
mass = "5/8 oz"
rated_depth = "15 ft"
rated_line_test = "12 lb"
sound = "rattling"
model = "long 15"
[lures.thin-20]
body_length = "2 3/4 in"
lip_length = "1.55 in"
lip_width = "0.85 in"
mass = "3/4 oz"
rated_depth = "20 ft"
rated_line_test = "10 lb"
sound = "silent"
[lines.f10]
material = "fluorocarbon"
test = "10 lb"
diameter = "0.28 mm"
[lines.f14]
material = "fluorocarbon"
test = "14 lb"
diameter = "0.34 mm"
[lines.n17]
material = "nylon"
test = "17 lb"
diameter = "0.40 mm"
[rods.long]
length = "7 ft 10 in"
lure_mass = "1/2 to 1 1/2 oz"
power = "medium heavy"
[rods.short]
length = "6 ft 10 in"
lure_mass = "1/4 to 3/4 oz"
power = "medium"
[rods.middle]
length = "7 ft 4 in"
lure_mass = "3/8 to 1 oz"
power = "medium"
"""


def lake() -> BottomModel:
    """The invented lake from its formula."""
    lattice = Lattice(FRAME, -1150.0, -550.0, 5.0, 461, 221)
    xs = lattice.x_m[None, :].repeat(lattice.ny, 0)
    ys = lattice.y_m[:, None].repeat(lattice.nx, 1)
    import numpy as np

    depth = true_depth_m(xs, ys)
    depth = np.where(depth > 0.0, depth, np.nan).astype(np.float32)
    return BottomModel("Quillfeather Lake", lattice, depth, np.full(depth.shape, 0.15, np.float32))


def trip(folder: Path, kit: str = KIT, more: str = "", **changes: str) -> Trip:
    """The demo trip with the small kit and the wind left out, some words exchanged."""
    (folder / "kit.toml").write_text(kit, encoding="utf-8")
    text = demo_trip_text().replace('kit = "demo"', 'kit = "kit.toml"')
    text = text.replace('wind = "6 mph from SW"', "").replace('deadline = "14:00"',
                                                              'deadline = "9:00"')  # fmt: skip
    for was, now in changes.items():
        found = {"deadline": 'deadline = "9:00"', "aim": 'want = "bites"', "rods": "rods = 3",
                 "grass": 'grass = "some"', "edge": 'grass_edge = "13 ft"',
                 "fish": 'species = "largemouth"', "seen": 'seen = "11-15 ft"'}[was]  # fmt: skip
        assert found in text
        text = text.replace(found, now, 1)
    return parse_trip(text + more, folder / "trip.toml")
