"""What matching refuses to work with: all of it at once, before anything is worked out."""

import math
from collections.abc import Iterator, Sequence

from bladewright.errors import BadInput, OutsideValidity, SeveralBadInputs
from bladewright.pairing.quantities import QUANTITIES
from bladewright.pairing.records import Candidate
from bladewright.pairing.terms import Terms

GREATEST_SIZE = 4
GREATEST_BATCH = 24  # for sets of three and four: 10,626 sets of four, solved in seconds
_MEASURED = ("span_moment", "span_moment_uncertainty")  # a blade without these was never weighed


def require(candidates: Sequence[Candidate], size: int, terms: Terms) -> None:
    """Raise everything that is wrong with the batch and with what it is held to."""
    errors = [*_twice(candidates), *(error for blade in candidates for error in _blade(blade)), *_terms(terms)]
    if errors:
        raise errors[0] if len(errors) == 1 else SeveralBadInputs(errors)
    if not 2 <= size <= GREATEST_SIZE:
        allowed = f"2 to {GREATEST_SIZE}"
        raise OutsideValidity(f"sets of {size} are not worked out", field="size", value=size, allowed=allowed)
    if size > 2 and len(candidates) > GREATEST_BATCH:
        raise OutsideValidity(
            "too many blades for exact sets of three or four", field="candidates", value=len(candidates),
            allowed=f"at most {GREATEST_BATCH}", fix="match the batch in parts",
        )  # fmt: skip


def _twice(candidates: Sequence[Candidate]) -> Iterator[BadInput]:
    serials = [blade.serial for blade in candidates]
    for serial in sorted({serial for serial in serials if serials.count(serial) > 1}):
        yield BadInput("is given twice", field="serial", value=serial, allowed="each blade once")


def _blade(blade: Candidate) -> Iterator[BadInput]:
    for name in blade.__slots__:
        if name in ("serial", "handle_force_validated", "only_with"):
            continue
        value: float | None = getattr(blade, name)
        if value is None and name not in _MEASURED:
            continue
        spread = name.endswith("uncertainty")
        if value is None or not math.isfinite(value) or (spread and value < 0.0):
            allowed = "zero or more" if spread else "a finite number"
            yield BadInput(f"of {blade.serial} cannot be used", field=name, value=value, allowed=allowed)


def _terms(terms: Terms) -> Iterator[BadInput]:
    limits, band, balance = terms.limits, terms.handle_band, terms.places.balance
    entered = {f"limits.match, {q.name}": q.limit(limits) for q in QUANTITIES} | {"limits.match, track": limits.track}
    if balance is not None:
        entered |= {"balance.mass": balance.mass, "balance.chord": balance.chord}
    entered |= {f"radius of pocket {pocket.name}": pocket.radius for pocket in terms.places.pockets}
    for field, value in entered.items():
        if value is not None and not 0.0 < value < math.inf:
            yield BadInput("must be more than nothing", field=field, value=value, allowed="> 0", fix="mend the drawing")
    least = {f"what pocket {pocket.name} holds": pocket.greatest for pocket in terms.places.pockets}
    for field, value in (least | {"friction": terms.friction or 0.0}).items():
        if not 0.0 <= value < math.inf:
            yield BadInput("is less than nothing", field=field, value=value, allowed="zero or more")
    if band is not None and not band.least <= band.greatest:
        yield BadInput(
            "begins above its end", field="handle_band.least", value=band.least, allowed=f"at most {band.greatest:g} N"
        )
