"""How figures, times and outcomes read on the desk."""

import datetime

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from bladewright.figures import (
    Figure,
    Finding,
    Outcome,
    clock_text,
    in_system,
    spread,
    spread_in_system,
    value_in_system,
)
from bladewright.records.book import opened

register = template.Library()

#: a word and a sign, so that colour never says it alone
SIGNS = {Outcome.PASS: "✓", Outcome.REFER: "?", Outcome.FAIL: "✗", Outcome.MISSING: "…"}


@register.filter
def told(figure: Figure | None, system: str = "metric") -> str:
    """Value, unit and uncertainty in the person's units, with every mark that belongs to it."""
    return "not known" if figure is None else in_system(figure, system)


@register.filter
def value(figure: Figure | None, system: str = "metric") -> str:
    """Value and unit alone, for a place where ``known`` stands beside it."""
    return "not known" if figure is None else value_in_system(figure, system)


@register.filter
def known(figure: Figure | None, system: str = "metric") -> str:
    """How well a value is known, with every mark that belongs to it."""
    return "" if figure is None else spread_in_system(figure, system).removeprefix(", ").strip()


@register.filter
def marks(figure: Figure) -> str:
    """What must be said of a figure besides its value."""
    return "; ".join(part for part in spread(figure).split("; ")[1:])


@register.filter
def clock(moment: datetime.datetime | datetime.date | None) -> str:
    """A moment by the shop's clock with its offset; a day as it is."""
    if isinstance(moment, datetime.datetime):
        return clock_text(opened().clock(moment))
    return "" if moment is None else moment.isoformat()


@register.filter
def until(moment: datetime.datetime | None) -> str:
    """A moment something ends at; the end of a day by its day."""
    if moment is None:
        return ""
    wall = opened().clock(moment)
    last = wall - datetime.timedelta(days=1)
    return f"the end of {last.date().isoformat()}" if wall.time() == datetime.time() else clock_text(wall)


@register.filter
def day(moment: datetime.datetime | None) -> str:
    """The shop's calendar day of a moment."""
    return "" if moment is None else opened().day(moment).isoformat()


@register.filter
def mark(found: Finding | Outcome | str) -> SafeString:
    """An outcome as a coloured word with its sign."""
    outcome = Outcome(found.outcome if isinstance(found, Finding) else found)
    return _coloured(outcome, outcome.value)


def _coloured(outcome: Outcome, words: str) -> SafeString:
    sign = SIGNS[outcome]
    return format_html('<span class="mark {}"><span aria-hidden="true">{}</span> {}</span>', outcome.value, sign, words)


#: a verdict's word, by the outcome it is coloured like
_WORDS = {
    "accepted": Outcome.PASS,
    "signed out": Outcome.PASS,
    "held": Outcome.REFER,
    "rejected": Outcome.FAIL,
    "incomplete": Outcome.MISSING,
}


@register.filter
def word(text: str) -> SafeString:
    """A verdict's word, coloured by what it means; one accepted under a deviation is not coloured as a pass."""
    outcome = _WORDS.get(text, Outcome.REFER if text else Outcome.MISSING)
    return _coloured(outcome, text or "not judged")


#: how a roll stands, and how something dated does, by the outcome each is coloured like
_STANDS = {
    "usable": Outcome.PASS,
    "usable, not for long": Outcome.REFER,
    "NOT TO BE USED": Outcome.FAIL,
    "used up": Outcome.MISSING,
    "holds": Outcome.PASS,
    "due soon": Outcome.REFER,
    "overdue": Outcome.FAIL,
    "found outside its limits": Outcome.FAIL,
    "never done": Outcome.MISSING,
}


@register.filter
def roll_word(text: str) -> SafeString:
    """How a roll of film stands."""
    return _coloured(_STANDS.get(text, Outcome.MISSING), text)


@register.filter
def due_word(text: str) -> SafeString:
    """How something that falls due stands."""
    return _coloured(_STANDS.get(text, Outcome.MISSING), text)
