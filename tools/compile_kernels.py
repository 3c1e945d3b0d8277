"""Compile the kernels once, before the processes of a test run begin.

They begin at the same moment with the same kernels, so each process would compile all of
them for itself: 110 s of processor time each on a machine that never ran this tree.  Here it
is done in one process, while the other core checks the types (`make test`).  What is there
already is only loaded.  A fault is told by the tests, not here.
"""

from pathlib import Path

from pourcast.forecast.burnout_study import middle_section, study
from pourcast.forecast.solve import forecast
from pourcast.forecast.voxel_study import voxel_study
from pourcast.sheet import read_plan

EXAMPLE = Path(__file__).parents[1] / "examples" / "larch_twig.toml"


def main() -> None:
    """Ask for one answer of each kind, as small as it can be."""
    plan = read_plan(EXAMPLE.read_text(encoding="utf-8"), file=EXAMPLE.name)
    forecast(plan, draws=1)
    middle_section(study(plan, draws=1, rng=0))
    voxel_study(plan, voxel=3e-3, until=1.0, memory_limit=10**9)


if __name__ == "__main__":
    main()
