"""What may touch each part of the casting, where it is cut and what comes back."""

import numpy as np

from pourcast import units as si
from pourcast.finish.acts import allowed, bent_shares
from pourcast.finish.chain import bearers
from pourcast.finish.cutting import balance, cuts
from pourcast.finish.limits import first_to_bend, part_limits
from pourcast.finish.model import FinishCase, FinishResult, Limits, PartFinish
from pourcast.melt.model import MetalAccount
from pourcast.piece.model import Measures, Network


def solve(
    network: Network, measures: Measures, account: MetalAccount, case: FinishCase
) -> FinishResult:
    """Return how the casting can be cleaned and cut, if all of it came out.

    Parameters
    ----------
    network : Network
    measures : Measures
    account : MetalAccount
    case : FinishCase

    Returns
    -------
    FinishResult

    Raises
    ------
    InputError
        If a value is outside its limits, or the shapes do not go together.
    SolveError
        If the buckling of a part does not settle.
    """
    rows = bearers(network)
    limits = part_limits(network, rows, case.strength, case.section_scale, case.loads)
    bent = bent_shares(limits, case.loads)
    by_water = (case.loads.water_jet[:, None] > limits.tip_force).mean(axis=0)
    weakest = first_to_bend(network, rows)
    members = np.bincount(network.member_part, minlength=len(network.part_names))
    parts = []
    for part, name in enumerate(network.part_names):
        shares = {act: float(share[part]) for act, share in bent.items()}
        acts = allowed(shares)
        parts.append(
            PartFinish(
                name=name,
                members=int(members[part]),
                act=acts[0],
                allowed=acts,
                bent=shares,
                bent_by_water=float(by_water[part]),
                bends_at=weakest[part],
                **_medians(limits, part),
            )
        )
    return FinishResult(
        parts=tuple(parts),
        cuts=cuts(network, case.feeds, case.saw_rate),
        balance=balance(
            network,
            measures,
            account,
            case.feeds,
            solid_density=case.solid_density,
            contraction=case.contraction,
        ),
    )


def _medians(limits: Limits, part: int) -> dict[str, si.Ratio]:
    return {
        "tip_force": float(np.median(limits.tip_force[:, part])),
        "middle_force": float(np.median(limits.middle_force[:, part])),
        "end_force": float(np.median(limits.end_force[:, part])),
        "tip_force_low": float(np.percentile(limits.tip_force[:, part], 5.0)),
        "pressure": float(np.median(limits.pressure[:, part])),
        "deflection": float(np.median(limits.deflection[:, part])),
        "blast_deflection": float(np.median(limits.blast_deflection[:, part])),
    }
