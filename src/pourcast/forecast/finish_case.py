"""Finish case: from the plan and the draws to what the finishing starts from.

Parts of wax that stand between the button and the original are feeds: they are no
part of the work and are cut off with the button.
"""

from pourcast.finish.loads import NAMES, tool_loads
from pourcast.finish.model import FinishCase, Strength
from pourcast.forecast.prepare import Prepared
from pourcast.materials import Library, Material, Value, draw
from pourcast.pour.model import PourCase
from pourcast.sheet.model import Plan


def finish_unknowns(alloy: Material, library: Library) -> dict[str, Value]:
    """Return the values that the finishing draws, under their whole keys.

    Parameters
    ----------
    alloy : Material
    library : Library

    Returns
    -------
    dict of str to Value

    Raises
    ------
    SourceError
        If a record is missing.
    """
    found = [alloy["yield_strength"], alloy["youngs"]]
    found += [library.finish[name] for name in NAMES]
    return {value.key: value for value in found}


def finish_case(plan: Plan, ready: Prepared, poured: PourCase) -> FinishCase:
    """Return what the finishing starts from.

    Parameters
    ----------
    plan : Plan
    ready : Prepared
    poured : PourCase
        Of the same draws.

    Returns
    -------
    FinishCase
    """
    alloy, book = ready.alloy, ready.book
    # Apart from the others: nothing before the finishing hangs on them.
    drawn = draw(finish_unknowns(alloy, book), ready.scale.shape[0], ready.seed)
    loads = {name: drawn[book.finish[name].key] for name in NAMES}
    return FinishCase(
        strength=Strength(
            yield_strength=drawn[alloy["yield_strength"].key],
            youngs_modulus=drawn[alloy["youngs"].key],
        ),
        loads=tool_loads(loads, poured.block.air_pressure),
        section_scale=ready.scale,
        saw_rate=book.finish["saw_rate"].si,
        solid_density=alloy["density_20"].si,
        contraction=alloy["contraction_solid"].si,
        feeds=feeds(plan, book),
    )


def feeds(plan: Plan, library: Library) -> tuple[str, ...]:
    """Return the parts that lead metal to the work and are cut off with the button.

    Parameters
    ----------
    plan : Plan
    library : Library

    Returns
    -------
    tuple of str
        Parts of wax from the button on, as long as only wax has come before;
        none where the whole original is wax.
    """
    wax = {part.name: part.material in library.waxes for part in plan.piece.parts}
    if all(wax.values()):
        return ()
    found: list[str] = []
    for part in plan.piece.parts:
        if wax[part.name] and (part.parent == "button" or part.parent in found):
            found.append(part.name)
    return tuple(found)
