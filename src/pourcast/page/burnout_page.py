"""The burnout as one file of HTML, of the same make as the page of the forecast."""

import importlib.metadata

from markupsafe import Markup

from pourcast import units as si
from pourcast.burnout.curves import steps_of
from pourcast.burnout.dial import DialPlan
from pourcast.burnout.model import Section
from pourcast.forecast.burnout_study import BurnoutStudy
from pourcast.materials.load import library
from pourcast.page import cautions, words_burn, words_kiln
from pourcast.page.figures import clean
from pourcast.page.names import LEVELS
from pourcast.page.render import basis, style, style_hash, template
from pourcast.page.svg_burn import heat_over_the_day
from pourcast.page.svg_section import block_in_section


def render_burnout(
    study: BurnoutStudy,
    section: Section,
    *,
    start: si.Second | None = None,
    dial: DialPlan | None = None,
) -> str:
    """Return the page of a burnout.

    Parameters
    ----------
    study : BurnoutStudy
    section : Section
        Of the middle draw, at the hours to be shown.
    start : float or None [s]
        Time of day at which the block goes in.
    dial : DialPlan, optional
        For a kiln that is turned by hand.

    Returns
    -------
    str
        A whole HTML document in UTF-8, without any reference to another file.
    """
    look = style()
    limits = library().investment["limits"]
    order = list(LEVELS)
    care = cautions.at_the_kiln()
    told = {caution.finding for caution in care}
    speech = study.plan.speech
    lines = words_kiln.shortest_told(study.shortest) if study.shortest else []
    if dial is not None and start is not None:
        lines.append(words_kiln.dial_note(dial, start, speech))
    return template("burnout.html.j2").render(
        study=study,
        start=start,
        style=Markup(look),
        style_hash=style_hash(look),
        name=clean(study.plan.piece.name) or "A piece without a name",
        words=words_burn,
        curves={name: said[0].upper() + said[1:] for name, said in words_burn.CURVES.items()},
        day=heat_over_the_day(
            study.burnout,
            top=limits["burnout_peak_default"].si,
            stop=limits["burnout_peak_hard_stop"].si,
            start=start,
            speech=speech,
        ),
        inside=block_in_section(section, start=start, speech=speech),
        beside=study.burnout.curve.name != "usual",
        hours=words_kiln.hours_beside(study.burnout, study.usual, start),
        table_name=words_kiln.table_name(start),
        lines=lines,
        steps=words_kiln.steps_told(study.burnout, steps_of(study.burnout.curve), speech),
        turns=words_kiln.turns_told(dial) if dial else [],
        speech=speech,
        findings=sorted(
            (speech.finding(kept) for kept in study.findings if kept.key not in told),
            key=lambda finding: order.index(finding.level),
        ),
        basis=basis,
        levels=LEVELS,
        care=care,
        last_word=cautions.LAST_WORD,
        quiet=cautions.named("quiet_rule"),
        version=importlib.metadata.version("pourcast"),
    )
