"""Moved knobs: what was turned since the kept plan, and what that did, in sentences."""

from dataclasses import replace

from pourcast.app.knob import Knob
from pourcast.app.knobs import knobs
from pourcast.app.look import Look
from pourcast.app.moved import time_told, whole_told
from pourcast.app.trials import Trial
from pourcast.app.words import say
from pourcast.forecast.model import Forecast
from pourcast.page.figures import number


def what_moved(
    now: Forecast, was: Forecast, look: Look, trial: Trial | None
) -> dict[str, str] | None:
    """Return what moved and what that did, in sentences; None: nothing is turned."""
    if trial is None:
        return None
    # Who types °F at a knob of a sheet in °C is told both in °F.
    before = replace(was, plan=replace(was.plan, speech=now.plan.speech))
    old = {knob.id: knob for knob in knobs(before, look)}
    new = {knob.id: knob for knob in knobs(now, look)}
    names = dict.fromkeys(turn.knob for turn in trial.turns)
    turned = [
        (new[name], old[name])
        for name in names
        if name in new and name in old and new[name].shown != old[name].shown
    ]
    wax = dict.fromkeys(turn.label for turn in trial.turns if turn.knob == "wax")
    return {
        "turned": _turned(turned, list(wax)),
        "whole": whole_told(now, was),
        "time": time_told(now, was),
    }


def _turned(turned: list[tuple[Knob, Knob]], wax: list[str]) -> str:
    if wax:
        told = say("piece.turned.wax", each="; ".join(wax))
        return f"{told} {_turned(turned, [])}" if turned else told
    if not turned:
        return say("piece.turned.back")
    if len(turned) == 1:
        new, old = turned[0]
        key = "piece.turned.one"
        if new.value is not None and old.value is not None:
            key = "piece.turned.up" if new.value > old.value else "piece.turned.down"
        return say(key, label=new.label, was=_in_words(old), now=_in_words(new))
    each = "; ".join(
        say("piece.turned.each", label=new.label, was=_in_words(old), now=_in_words(new))
        for new, old in turned
    )
    return say("piece.turned.many", count=len(turned), each=each)


def _in_words(knob: Knob) -> str:
    if knob.choices:
        return say(f"piece.word.{knob.word}")
    return knob.with_unit("" if knob.value is None else number(knob.value, 4))
