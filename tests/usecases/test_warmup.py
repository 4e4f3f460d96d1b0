"""After warming up, no answer of the pages compiles anything."""

from __future__ import annotations

import subprocess
import sys

# A process of its own: in this one other tests have met the kernels already.
SCRIPT = """
import sys
from numba.core.registry import CPUDispatcher
from leadsman.usecases.warmup import warm_up

def met():
    return {
        f"{name}.{key}": len(item.signatures)
        for name, module in list(sys.modules.items()) if name.startswith("leadsman")
        for key, item in vars(module).items() if isinstance(item, CPUDispatcher)
    }

warm_up()
before = met()
assert sum(before.values()) > 3, before
from leadsman.usecases.depth import find_depth
from leadsman.usecases.levers import find_levers
from leadsman.hydro.cast_flight import Wind
from leadsman.usecases.questions import *
grass = BottomQuestion("3 m", grass=GrassQuestion(2.5))
setup = SetupQuestion(lure="long-lip-15", line="fluoro-12")
for ground in (BottomQuestion(), BottomQuestion("3 m, 4 m"), grass):
    question = DepthQuestion(setup, TechniqueQuestion(tip="under"), ground)
    find_depth(question, Wind(4.0, 2.0))
    find_levers(question)
after = met()
new = [name for name, count in after.items() if count != before.get(name, 0)]
print("new:", new)
"""


def test_nothing_new_is_compiled_for_an_answer(tmp_path: object) -> None:
    done = subprocess.run(
        [sys.executable, "-c", SCRIPT], capture_output=True, text=True, cwd=str(tmp_path)
    )
    assert done.returncode == 0, done.stderr[-2000:]
    assert done.stdout.strip() == "new: []"
