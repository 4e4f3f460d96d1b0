"""Run `moordyn`, an independent general cable code, on the steady tow and freeze its figures.

The tow is seen from the boat: the tip is fixed at the surface and the water
flows past. `moordyn` is dynamic, so a run is let go from a straight line and
settles. Its default step blows up on so light a line; 2e-4 s holds, and
5e-5 s for the stiff one.

    python tests/reference/make_moordyn_tow.py            writes moordyn_tow.json
    python tests/reference/make_moordyn_tow.py --case N   prints case N only
"""

from __future__ import annotations

import argparse
import json
import math
import os
import tempfile
import time
from pathlib import Path
from typing import Any

HERE = Path(__file__).parent
VERSION = "2.7.2"

DIAMETER_M, LENGTH_M, SPEED_M_S = 0.35e-3, 40.0, 1.5
END_DRAG_AREA_M2 = 0.0026667  # 1/2 rho CdA V^2 = 3.0000 N
END_MASS_KG = 2.5 / 9.81  # 2.5 N with no volume
SEGMENTS, SETTLE_S = 40, 270.0

CASES: tuple[dict[str, Any], ...] = (
    {"name": "neutral-2GPa", "density_kg_m3": 1000.0, "modulus_pa": 2e9, "step_s": 2e-4},
    {"name": "heavy-2GPa", "density_kg_m3": 1780.0, "modulus_pa": 2e9, "step_s": 2e-4},
    {"name": "neutral-20GPa", "density_kg_m3": 1000.0, "modulus_pa": 20e9, "step_s": 5e-5},
)


def input_text(density_kg_m3: float, modulus_pa: float, step_s: float) -> str:
    """Input file of one case."""
    section = math.pi / 4.0 * DIAMETER_M**2
    mass, stiffness = density_kg_m3 * section, modulus_pa * section
    # Start near the settled shape: a straight line 18 degrees down.
    x, z = LENGTH_M * math.cos(0.32), -LENGTH_M * math.sin(0.32)
    return f"""steady tow
----------------------- LINE TYPES ------------------------------------------
Name Diam Mass/m EA BA/-zeta EI Cd Ca CdAx CaAx
(name) (m) (kg/m) (N) (N-s/-) (N-m^2) (-) (-) (-) (-)
line {DIAMETER_M} {mass:.12g} {stiffness:.12g} -0.8 0.0 1.2 1.0 0.015 0.0
---------------------------- POINTS -----------------------------------------
ID Attachment X Y Z M V CdA Ca
(#) (word) (m) (m) (m) (kg) (m^3) (m^2) (-)
1 Fixed 0.0 0.0 0.0 0 0 0 0
2 Free {x:.9g} 0.0 {z:.9g} {END_MASS_KG:.12g} 0.0 {END_DRAG_AREA_M2} 0.0
---------------------------- LINES ------------------------------------------
ID LineType AttachA AttachB UnstrLen NumSegs Outputs
(#) (name) (#) (#) (m) (-) (-)
1 line 1 2 {LENGTH_M} {SEGMENTS} -
---------------------------- OPTIONS ----------------------------------------
{step_s} dtM
9.81 g
1000.0 WtrDnsty
200.0 WtrDpth
1.0e4 kBot
1.0e3 cBot
1 Currents
0.0 TmaxIC
0 writeLog
-------------------------- OUTPUTS ------------------------------------------
--------------------- need this line ----------------------------------------
"""


def profile_text() -> str:
    """Profile of the current: the same at every depth."""
    rows = "\n".join(f"{z:.1f} {SPEED_M_S} 0.0 0.0" for z in (-200.0, -100.0, -50.0, 0.0, 10.0))
    return f"current profile\nz ux uy uz\n(m) (m/s) (m/s) (m/s)\n{rows}\n"


def run(case: dict[str, Any], settle_s: float = SETTLE_S) -> dict[str, Any]:
    """Run one case until it has settled.

    Parameters
    ----------
    case : dict
        One of `CASES`.
    settle_s : float
        Simulated time [s].

    Returns
    -------
    dict
        The case with depth, layback, the change of depth in the last tenth of
        the run and the time it took.
    """
    import moordyn

    before = Path.cwd()
    with tempfile.TemporaryDirectory() as folder:
        try:
            os.chdir(folder)
            text = input_text(case["density_kg_m3"], case["modulus_pa"], case["step_s"])
            Path("lines.txt").write_text(text)
            Path("current_profile.txt").write_text(profile_text())
            began = time.perf_counter()
            system = moordyn.Create("lines.txt")
            moordyn.SetVerbosity(system, moordyn.LEVEL_ERR)
            moordyn.Init(system, [], [])
            end = moordyn.GetPoint(system, 2)
            now, depths = 0.0, []
            for _ in range(100):
                moordyn.Step(system, [], [], now, settle_s / 100.0)
                now += settle_s / 100.0
                depths.append(-moordyn.GetPointPos(end)[2])
            x, _, z = moordyn.GetPointPos(end)
            took = time.perf_counter() - began
            moordyn.Close(system)
        finally:
            os.chdir(before)
    return {
        **case,
        "depth_m": round(-z, 6),
        "layback_m": round(x, 6),
        "last_tenth_m": round(abs(depths[-1] - depths[-11]), 7),
        "seconds": round(took, 1),
    }


def main() -> None:
    """Run all cases, or one, and write or print them."""
    parser = argparse.ArgumentParser(description="steady tow by moordyn")
    parser.add_argument("--case", type=int)
    parser.add_argument("--settle", type=float, default=SETTLE_S)
    given = parser.parse_args()
    if given.case is not None:
        print(json.dumps(run(CASES[given.case], given.settle)))
        return
    frozen = {
        "code": f"moordyn {VERSION}",
        "made_by": "tests/reference/make_moordyn_tow.py",
        "segments": SEGMENTS,
        "settle_s": SETTLE_S,
        "cases": [run(case) for case in CASES],
    }
    (HERE / "moordyn_tow.json").write_text(json.dumps(frozen, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
