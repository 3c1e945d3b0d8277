"""Document: flasks and proposals as JSON; units stand in the keys."""

from collections.abc import Sequence
from typing import Any

from pourcast import units as si
from pourcast.forecast.document import finding_tree
from pourcast.gating.flask_checks import findings
from pourcast.gating.model import FlaskChoice, FlaskFit, Proposal, Stand
from pourcast.gating.share import SharedFlask
from pourcast.gating.share_checks import shared_findings
from pourcast.sheet.edit import Edit

FLASKS = "pourcast.flasks/1"
PROPOSALS = "pourcast.gating/1"


def flasks_document(choice: FlaskChoice, *, name: str, version: str) -> dict[str, Any]:
    """Return which flask to take, as a tree for JSON.

    Parameters
    ----------
    choice : FlaskChoice
    name : str
        Of the piece.
    version : str
    """
    return {
        "schema": FLASKS,
        "version": version,
        "piece": name,
        "needed_diameter_mm": _mm(choice.needed_diameter),
        "needed_height_mm": _mm(choice.needed_height),
        "circle_mm": {
            "x": _mm(choice.circle.x),
            "y": _mm(choice.circle.y),
            "radius": _mm(choice.circle.radius),
        },
        "taken": None if choice.taken is None else choice.taken.flask.name,
        "needs_pose": choice.needs_pose,
        "flasks": [_fit(fit) for fit in choice.fits],
        "cuts": [
            {"part": cut.part, "members": cut.members, "length_mm": _mm(cut.length)}
            for cut in choice.cuts
        ],
        "findings": [finding_tree(kept) for kept in findings(choice)],
    }


def shared_document(shared: SharedFlask, *, version: str) -> dict[str, Any]:
    """Return how several pieces stand in one flask, as a tree for JSON.

    Parameters
    ----------
    shared : SharedFlask
    version : str
    """
    return {
        "schema": FLASKS,
        "version": version,
        "pieces": list(shared.names),
        "flask": shared.flask.name,
        "needed_diameter_mm": _mm(shared.needed_diameter),
        "gap_mm": _mm(shared.gap),
        "wall_mm": _mm(shared.wall),
        "cover_mm": _mm(shared.cover),
        "circles_mm": [
            {"x": _mm(each.x), "y": _mm(each.y), "radius": _mm(each.radius)}
            for each in shared.circles
        ],
        "findings": [finding_tree(kept) for kept in shared_findings(shared)],
    }


def proposals_document(proposals: Sequence[Proposal], *, name: str, version: str) -> dict[str, Any]:
    """Return proposals as a tree for JSON.

    Parameters
    ----------
    proposals : sequence of Proposal
    name : str
        Of the piece.
    version : str
    """
    return {
        "schema": PROPOSALS,
        "version": version,
        "piece": name,
        "proposals": [
            {
                "number": number,
                "name": each.name,
                "kind": each.kind,
                "part": each.part,
                "words": each.words,
                "edits": [_edit(edit) for edit in each.edits],
                "wax": [
                    {
                        "what": piece.what,
                        "diameter_mm": _mm(piece.diameter),
                        "length_mm": _mm(piece.length),
                        "count": piece.count,
                    }
                    for piece in each.wax
                ],
                "clean_off": each.clean_off,
                "bench_min": round(each.costs.bench / 60.0, 1),
                "metal_g": round(si.from_si(each.costs.metal, "g"), 1),
            }
            for number, each in enumerate(proposals, start=1)
        ],
    }


def _fit(fit: FlaskFit) -> dict[str, Any]:
    tree: dict[str, Any] = {
        "name": fit.flask.name,
        "inside_diameter_mm": _mm(fit.flask.inside_diameter),
        "height_mm": _mm(fit.flask.height),
        "wall": fit.flask.wall,
        "count": fit.flask.count,
        "planned": _stand(fit.planned),
        "best": _stand(fit.best),
    }
    if fit.load is not None:
        power = fit.load.power_time
        tree["load"] = {
            "steel_kg": round(fit.load.steel, 3),
            "fresh_kg": round(fit.load.fresh, 3),
            "burnt_kg": round(fit.load.burnt, 3),
            "poured_kg": round(fit.load.poured, 3),
            "heat_MJ": round(1e-6 * fit.load.heat, 3),
            "full_power_min": None if power is None else round(power / 60.0, 1),
            "lag_min": round(fit.load.lag / 60.0, 1),
        }
    return tree


def _stand(stand: Stand) -> dict[str, Any]:
    return {
        "turn_deg": round(si.from_si(stand.pose.turn, "deg"), 1),
        "tilt_deg": round(si.from_si(stand.pose.tilt, "deg"), 1),
        "wall_mm": _mm(stand.wall),
        "cover_mm": _mm(stand.cover),
        "room": stand.room,
    }


def _edit(edit: Edit) -> dict[str, Any]:
    return {"path": list(edit.path), "value": edit.value}


def _mm(length: si.Metre) -> si.Ratio:
    return round(si.from_si(length, "mm"), 2)
