"""How outlines and readings stand in a page."""

from collections.abc import Sequence

from django import template

from bladewright.evidence.outlined import Corner
from bladewright.evidence.outlined_text import corners_text
from bladewright.figures import Figure, rounded

register = template.Library()


@register.filter
def corners(ring: Sequence[Corner]) -> str:
    """Corners as a picture takes them."""
    return corners_text(ring)


@register.filter
def bare(figure: Figure) -> str:
    """Value and unit alone, where the table says once that no uncertainty was entered."""
    return f"{rounded(figure.value, None)} {figure.unit}"
