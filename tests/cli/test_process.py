"""A process of the command leaves out what no kernel needs; a library's host keeps all."""

import subprocess
import sys

import pytest

pytest.importorskip("scipy.linalg")

_FIRST_KERNEL = """
import numpy as np
from numba import njit
assert njit(lambda a: a[0] + 1.0)(np.ones(3)) == 2.0
"""

_ASK = "import sys; print('scipy.linalg' in sys.modules)"


def _said_by(script: str) -> str:
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True)
    assert done.returncode == 0, done.stderr
    return done.stdout.strip()


def test_a_command_does_not_load_linear_algebra_for_a_kernel() -> None:
    own = "from pourcast.cli.process import own_process; own_process()"
    assert _said_by(f"{own}\n{_FIRST_KERNEL}\n{_ASK}") == "False"


def test_a_library_leaves_the_process_of_its_host_alone() -> None:
    assert _said_by(f"import pourcast, pourcast.forecast\n{_FIRST_KERNEL}\n{_ASK}") == "True"


def test_a_command_that_needs_linear_algebra_itself_has_it() -> None:
    own = "from pourcast.cli.process import own_process; own_process()"
    use = "import scipy.linalg; print(float(scipy.linalg.det([[2.0, 0.0], [0.0, 3.0]])))"
    assert _said_by(f"{own}\n{_FIRST_KERNEL}\n{use}") == "6.0"


def test_a_process_ends_without_a_search_for_circles() -> None:
    watch = (
        "import gc; from pourcast.cli.process import own_process; own_process()\n"
        "class Ring: pass\n"
        "ring = Ring(); ring.self = ring\n"
        "import atexit; atexit._run_exitfuncs(); print(gc.get_freeze_count() > 1000)"
    )
    assert _said_by(watch) == "True"
