"""One check of ours against one number from outside."""

from collections.abc import Callable
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Case:
    """A quantity as we compute it and as an outside source prints it."""

    source: str  # author, title, year (+ "from memory" / "closed form" label)
    quantity: str  # ends in its unit: "lift slope [1/rad]"
    ours: Callable[[], float]
    published: float
    band: float  # absolute half-width
    reason: str = ""  # why the band is what it is
