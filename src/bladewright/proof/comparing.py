"""One value against its limits. Being inside by less than the uncertainty is no pass: a person decides."""

import math

from bladewright.figures import Outcome

#: what turning a written value into SI can add; a reading that touches its limit is inside it, not a bit out
ROUNDING = 1e-9


def held_to(
    value: float,
    *,
    least: float | None = None,
    greatest: float | None = None,
    uncertainty: float | None = None,
) -> Outcome:
    """Pass, refer or fail, with limits included. An uncertainty that is not known narrows nothing and is said so.

    A value that is not a finite number is inside nothing.
    """
    if not math.isfinite(value):
        return Outcome.FAIL
    slack = ROUNDING * max(abs(value), abs(least or 0.0), abs(greatest or 0.0))
    spread = abs(uncertainty or 0.0)
    outcome = Outcome.PASS
    for room in (
        None if least is None else value - least,
        None if greatest is None else greatest - value,
    ):
        if room is None:
            continue
        if room < -slack:
            return Outcome.FAIL
        if not room >= spread - slack:
            outcome = Outcome.REFER
    return outcome
