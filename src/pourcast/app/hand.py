"""Hand: what the studio has at hand, by its book: metals in the store, flasks on the shelf."""

from pourcast.book.settings import flasks
from pourcast.book.stock import lots
from pourcast.book.store import Book
from pourcast.change.at_hand import AtHand
from pourcast.errors import SourceError
from pourcast.materials import library
from pourcast.mould.model import Flask
from pourcast.sheet.model import Plan
from pourcast.units import to_si


def at_hand(book: Book, plan: Plan) -> AtHand:
    """Return what could be taken in the place of what a plan takes.

    Parameters
    ----------
    book : Book
    plan : Plan

    Returns
    -------
    AtHand
        Alloys of lots of which something is left and that the values know; flasks of
        which one at least stands there.  What the plan itself takes is left out.
    """
    return AtHand(alloys=_alloys(book, plan), flasks=_flasks(book, plan))


def _alloys(book: Book, plan: Plan) -> tuple[str, ...]:
    own = library().alloy(plan.charge.alloy).key
    found: list[str] = []
    for lot in lots(book):
        if lot.kind != "metal" or lot.balance_mg <= 0:
            continue
        try:
            key = library().alloy(lot.material).key
        except SourceError:
            # A name of the caster's own, which no record stands behind.
            continue
        if key != own and key not in found:
            found.append(key)
    return tuple(found)


def _flasks(book: Book, plan: Plan) -> tuple[Flask, ...]:
    made = []
    for each in flasks(book):
        flask = Flask(
            inside_diameter=to_si(each.inside_diameter_mm, "mm"),
            height=to_si(each.height_mm, "mm"),
            wall=each.wall,
            wall_thickness=plan.flask.wall_thickness,
            temperature=None,
        )
        same = (
            abs(flask.inside_diameter - plan.flask.inside_diameter) < 1e-6
            and abs(flask.height - plan.flask.height) < 1e-6
            and flask.wall == plan.flask.wall
        )
        if each.count > 0 and not same:
            made.append(flask)
    return tuple(made)
