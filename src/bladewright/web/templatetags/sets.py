"""How the pages of the sets say things."""

from collections.abc import Mapping, Sequence

from django import template
from django.http import QueryDict
from django.urls import NoReverseMatch, reverse

from bladewright.figures import Figure, Finding, in_system
from bladewright.pairing.pairs import Pair
from bladewright.papers.wording import worst_first as by_outcome
from bladewright.web.templatetags.desk import SIGNS

register = template.Library()


@register.filter
def tried(serials: Sequence[str]) -> str:
    """The end of an address that tries these blades."""
    query = QueryDict(mutable=True)
    query.setlist("try", list(serials))
    return query.urlencode()


@register.filter
def other(serials: tuple[str, str], serial: str) -> str:
    """The mate in a pair."""
    return serials[1] if serials[0] == serial else serials[0]


@register.filter
def sign(pair: Pair) -> str:
    """The sign beside the word of a pair."""
    return SIGNS[pair.governing.outcome]


@register.filter
def force(newtons: float, system: str) -> str:
    """A force at the handle in the person's units, whose uncertainty is told elsewhere."""
    return in_system(Figure("force", newtons, "N", 2.0), system).partition(" ±")[0]


@register.filter
def worst_first(findings: Sequence[Finding]) -> Sequence[Finding]:
    """What a reader who stops early must have seen."""
    return by_outcome(findings)


@register.filter
def at(held: Mapping[str, object], name: str) -> object:
    """One of several by its name."""
    return held.get(name)


@register.filter
def blade_address(serial: str) -> str:
    """The page of a blade, or the box that finds it."""
    try:
        return reverse("blade", args=[serial])
    except NoReverseMatch:
        return reverse("find", query={"text": serial})
