"""What the freezing in cells says; the page and the terminal share it."""

import math

from pourcast import units as si
from pourcast.forecast.voxel_study import VoxelStudy
from pourcast.page.figures import clean, degrees, number, with_unit
from pourcast.page.words_freeze import hollow

MOST_POOLS = 5
"""Places that lack metal, told one by one."""

_MINUTE = 60.0


def lines(study: VoxelStudy) -> list[str]:
    """Return all that is told, a sentence or two a line."""
    invented = "  (invented demo)" if study.plan.invented else ""
    return [
        f"{clean(study.plan.piece.name)}{invented}: freezing in cells",
        answer(study),
        *pools(study),
        mould(study),
        network(study),
        account(study),
    ]


def answer(study: VoxelStudy) -> str:
    """Return what is solid last, and when."""
    fields = study.fields
    if fields.partial:
        return (
            f"Stopped after {with_unit(fields.time / _MINUTE, 'min', 3)} of the day; what follows "
            "holds until then."
        )
    if not math.isfinite(fields.last_time):
        return f"Not all of it is solid after {with_unit(fields.time / _MINUTE, 'min', 3)}."
    return (
        f"All is solid {with_unit(fields.last_time / _MINUTE, 'min', 3)} after the pour, last of "
        f"all in the {clean(fields.last_part)}."
    )


def pools(study: VoxelStudy) -> list[str]:
    """Return where metal is missing, the most first."""
    found = study.fields.pools
    told = []
    for pool in found[:MOST_POOLS]:
        cut = (
            "never joined to the button"
            if pool.cut_time < 0.0
            else f"cut off after {with_unit(pool.cut_time, 's', 2)}"
        )
        height = si.from_si(float(pool.place[2]), "mm")
        told.append(
            f"{clean(pool.part)} lacks {hollow(pool.lack)}, {cut}, "
            f"{with_unit(abs(height), 'mm', 2)} {'over' if height > 0 else 'under'} the gate."
        )
    if len(found) > MOST_POOLS:
        told.append(f"{len(found) - MOST_POOLS} more places lack less.")
    return told or ["No place is cut off while it still shrinks."]


def mould(study: VoxelStudy) -> str:
    """Return how hot the mould gets, and how much of it."""
    speech = study.plan.speech
    hot = "; ".join(
        f"over {degrees(each.limit, speech)}: "
        f"{with_unit(si.from_si(each.volume, 'cm3'), 'cm3', 2)}, until "
        f"{with_unit(each.until / _MINUTE, 'min', 2)}"
        for each in study.fields.hot_mould
    )
    return (
        f"The mould comes to {degrees(study.fields.mould_peak, speech)} at its hottest; {hot}. "
        "Every pour of bronze does that beside the metal; it gives some sulphur dioxide."
    )


def network(study: VoxelStudy) -> str:
    """Return what the forecast by the network says of the same casting."""
    solid = study.network_solid
    if not math.isfinite(solid):
        return "By the network the same casting is not solid within the time followed."
    return (
        f"By the network, which the chances come from, the same casting is solid after "
        f"{with_unit(solid / _MINUTE, 'min', 3)}, {with_unit(study.pour_end, 's', 2)} of it pour."
    )


def account(study: VoxelStudy) -> str:
    """Return how fine it is, and how well heat is accounted for."""
    fields = study.fields
    return (
        f"{fields.cell_count} cells of {with_unit(si.from_si(fields.voxel, 'mm'), 'mm')} and "
        f"{fields.stack_count} lengths of thin parts, {fields.steps} steps; heat is kept to "
        f"{number(max(fields.energy_error, 1e-12), 1)} of what there was."
    )
