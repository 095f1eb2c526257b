"""One number of ours beside the same number from an outside source."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Case:
    """What is compared, with whose figure, and how near it must come."""

    source: str  # author, title, year, and how it is known: "closed form", "from memory"
    quantity: str  # ends in its unit: "lift slope [1/rad]"
    ours: Callable[[], float]
    published: float
    band: float  # absolute half-width
    reason: str = ""  # why the band is what it is
    disagrees: str = ""  # by how much and why ours is known to miss it; empty where it is to hold
