"""How the entries of a drawing read on the desk."""

from django import template

from bladewright.design.sensitivity import Step
from bladewright.drawing.words import in_words, shown_in

register = template.Library()


@register.filter
def words(field: str) -> str:
    """A field of the drawing in the trade's words."""
    return in_words(field)


@register.filter
def moved(step: Step) -> str:
    """How far a dimension was moved, in the unit a shop reads it in."""
    return shown_in(step.by, step.kind)
