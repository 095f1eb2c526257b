"""How fast the panels' errors fall with their number, on sections whose flow is known exactly."""

import math
from functools import partial

from bladewright.selfcheck.case import Case
from bladewright.selfcheck.karman_trefftz import CUSPED, FINITE, Mapped, flow

SOURCE = (
    "J. Katz, A. Plotkin, Low-Speed Aerodynamics, 1991 (from memory): the error of linear strength on straight panels "
    "falls with the square of their length; exact values closed form"
)
COARSE, FINE = 100, 800
ANGLE = 4.0  # [deg]


def order(section: Mapped, name: str) -> float:
    """Average power of the panel length that an error follows, from 100 to 800 panels."""
    at = section.angles.index(ANGLE)
    exact = {"drag_from_pressure": 0.0, "moment": section.moment[at]}.get(name, section.lift[at])
    errors = [abs(float(getattr(flow(section, panels), name)[at]) - exact) for panels in (COARSE, FINE)]
    return math.log(errors[0] / errors[1]) / math.log(FINE / COARSE)


CASES: tuple[Case, ...] = tuple(
    Case(
        SOURCE,
        f"{section.name}: order of the error of {name.replace('_', ' ')} [1]",
        partial(order, section, name),
        2.0,
        0.3,
        "single doublings scatter; the least that linear strength must show is 1.7",
    )
    for section in (CUSPED, FINITE)
    for name in ("lift", "lift_from_pressure", "drag_from_pressure", "moment")
)
