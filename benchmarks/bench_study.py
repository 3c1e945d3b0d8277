"""What moves the chance of a made-up spray, and how much the step length matters.

A spray of about 480 segments and 54 members, the weakest-known values drawn with
the same numbers each time.  Prints; there is no pass or fail.
"""

import sys
from dataclasses import replace
from pathlib import Path
from typing import Any

import numpy as np

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.pour.cases import spray, uncertain

from pourcast.piece.model import Network
from pourcast.pour.model import CAUSES, FULL, PourCase, Steps
from pourcast.pour.solve import solve

DRAWS = 400


def full(network: Network, case: PourCase, steps: Steps | None = None) -> tuple[np.ndarray, str]:
    """Return which members fill in which draw, and the causes of those that do not."""
    result = solve(network, case, steps=steps, threads=2)
    members = int(network.member.max()) + 1
    share = np.zeros((DRAWS, members))
    for member in range(members):
        own = network.member == member
        share[:, member] = result.filled[:, own] @ network.length[own] / network.length[own].sum()
    codes = result.cause[result.cause != FULL]
    counts = np.bincount(codes, minlength=len(CAUSES) + 1)[1:]
    parts = [
        f"{name} {100 * count / max(counts.sum(), 1):.0f} %"
        for name, count in zip(CAUSES, counts, strict=True)
        if count
    ]
    return share >= 0.95, ", ".join(parts) + f"; {result.steps.mean():.0f} steps"


def main() -> None:
    """Print the tables."""
    network = spray()
    print("Mean chance of a member, and what stops the segments that stay empty")
    cases: dict[str, dict[str, Any]] = {
        "gravity, flask 600": {},
        "60 kPa, flask 600": {"vacuum": 60e3},
        "60 kPa, flask 480": {"vacuum": 60e3, "temperature": 753.15},
        "60 kPa, flask 600, block 10 times tighter": {"vacuum": 60e3, "permeability": 1e-14},
        "60 kPa, flask 600, solid wall": {"vacuum": 60e3, "wall": "solid"},
    }
    for name, changes in cases.items():
        ends, why = full(network, uncertain(network, DRAWS, **changes))
        print(f"  {name:<44} {ends.mean():.3f}   {why}")

    print("Change of that mean, in points")
    for name, vacuum in {"gravity": 0.0, "60 kPa": 60e3}.items():
        before = full(network, uncertain(network, DRAWS, vacuum=vacuum))[0].mean()
        case = uncertain(network, DRAWS, vacuum=vacuum)
        warmer = replace(case.block, temperature=case.block.temperature + 25.0)
        hotter = replace(case.metal, temperature=case.metal.temperature + 25.0)
        higher = replace(case.stream, metal_volume=case.stream.metal_volume + 14e-6)
        early = replace(case.block, lead_time=case.block.lead_time + 25.0)
        deeper = replace(case.block, vacuum=case.block.vacuum + 10e3)
        thicker = replace(network, width=network.width + 1e-4, thickness=network.thickness + 1e-4)
        for change, after in {
            "flask 25 K hotter": full(network, replace(case, block=warmer)),
            "metal 25 K hotter": full(network, replace(case, metal=hotter)),
            "14 cm³ more metal": full(network, replace(case, stream=higher)),
            "pump on 25 s earlier": full(network, replace(case, block=early)),
            "10 kPa deeper": full(network, replace(case, block=deeper)),
            "coat of 0.05 mm on every side": full(thicker, case),
        }.items():
            print(f"  {name:<8} {change:<32} {100 * (after[0].mean() - before):+.1f}")

    print("Steps: largest change of a member's chance from the finest")
    for name, vacuum in {"gravity": 0.0, "60 kPa": 60e3}.items():
        case = uncertain(network, DRAWS, vacuum=vacuum)
        usual = Steps()
        finest = full(
            network,
            case,
            Steps(share=0.1, longest=usual.longest / 10, growth=1.05, lengthening=5e-4),
        )[0]
        for part in (2.0, 1.0, 0.5, 0.25):
            steps = Steps(share=usual.share, longest=usual.longest * part, growth=usual.growth)
            ends, why = full(network, case, steps)
            moved = np.abs(ends.mean(axis=0) - finest.mean(axis=0))
            print(
                f"  {name:<8} longest step {1e3 * steps.longest:5.2f} ms   largest "
                f"{moved.max():.3f}, mean {moved.mean():.4f}; {why.rpartition('; ')[2]}"
            )


if __name__ == "__main__":
    main()
