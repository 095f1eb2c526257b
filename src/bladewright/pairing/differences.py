"""How far the blades of one set lie apart in each quantity, and how well that is known."""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from bladewright.figures import Figure
from bladewright.pairing.quantities import Quantity
from bladewright.pairing.records import Candidate

#: share of a limit that may be lost in binary arithmetic: 6.412 - 6.402 is not quite 0.010
ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Spread:
    """The two blades of a set that lie furthest apart in one quantity, in SI; None where a value is unknown."""

    quantity: Quantity
    more: str  # serial
    less: str  # serial
    difference: float | None  # not negative
    uncertainty: float | None  # k = 2 of the difference
    unknown: tuple[str, ...] = ()  # serials whose value is not known
    validated: bool = True

    @property
    def resolved(self) -> bool:
        """Whether the difference is larger than its uncertainty; never when either is not known."""
        return self.difference is not None and self.uncertainty is not None and self.difference > self.uncertainty

    def figure(self) -> Figure | None:
        """As shown on paper; None when not known."""
        if self.difference is None:
            return None
        q = self.quantity
        spread = None if self.uncertainty is None else q.shown(self.uncertainty)
        word = f"{q.method}; {self.more} has more than {self.less}"
        return Figure(
            q.name, q.shown(self.difference), q.unit, spread, word, source="weighing and measuring records",
            validated=self.validated,
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Value:
    """One blade's value of one quantity, SI."""

    serial: str
    value: float | None
    uncertainty: float | None
    validated: bool = True


def values(blades: Iterable[Candidate], quantity: Quantity) -> tuple[Value, ...]:
    """What each blade brings, as measured."""
    return tuple(Value(b.serial, quantity.value(b), quantity.uncertainty(b), quantity.validated(b)) for b in blades)


def spread(blades: Sequence[Value], quantity: Quantity, limit: float | None) -> Spread:
    """The worst pair of those known: outside the limit before inside, then furthest apart with its uncertainty added.

    Uncertainties are combined as independent. Both blades were compared with one master, whose part would cancel, so
    this is on the safe side.
    """
    unknown = tuple(v.serial for v in blades if v.value is None)
    pairs = [_apart(a, b, quantity, unknown) for a, b in combinations(blades, 2) if a.serial not in unknown
             and b.serial not in unknown]  # fmt: skip
    return max(pairs, key=lambda pair: _badness(pair, limit), default=Spread(quantity, "", "", None, None, unknown))


def _apart(a: Value, b: Value, quantity: Quantity, unknown: tuple[str, ...]) -> Spread:
    assert a.value is not None  # spread() has looked
    assert b.value is not None
    more, less = (a, b) if a.value >= b.value else (b, a)
    both = None if a.uncertainty is None or b.uncertainty is None else math.hypot(a.uncertainty, b.uncertainty)
    validated = a.validated and b.validated
    return Spread(quantity, more.serial, less.serial, abs(a.value - b.value), both, unknown, validated)


def _badness(apart: Spread, limit: float | None) -> tuple[bool, float, float]:
    assert apart.difference is not None  # made by _apart
    unquantified = math.inf if apart.uncertainty is None else apart.uncertainty
    outside = limit is not None and beyond(apart.difference, limit)
    return outside, apart.difference + unquantified, apart.difference


def beyond(difference: float, limit: float) -> bool:
    """Whether a difference is outside a limit, which itself is inside whatever the rounding of the subtraction."""
    return difference > limit * (1.0 + ROUNDING)
