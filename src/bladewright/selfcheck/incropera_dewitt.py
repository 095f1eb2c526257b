"""Thin bodies in air and between walls: textbook examples, with the ice point at 273 K as the book takes it."""

import math
from functools import partial

from bladewright.engine.cure.lumped import ThinSheet, temperature_after, time_to_reach
from bladewright.selfcheck.case import Case

BOOK = (
    "F. P. Incropera, D. P. DeWitt, Fundamentals of Heat and Mass Transfer, ch. 5, examples (the panel's inputs read "
    "where a course sets it again; the bead's and all printed answers from memory)"
)
CLOSED = "one exponential, recomputed; closed form"
ICE = 273.0
SKIN = ThinSheet(2770.0 * 875.0 * 0.8e-3, 2.0 * 25.0)
#: per area of surface: a sphere's volume over its surface is a sixth of its diameter
BEAD = ThinSheet(8500.0 * 400.0 * 0.706e-3 / 6.0, 400.0)
PANEL_CAPACITY, BOTH = 2770.0 * 875.0 * 3e-3, 2.0
HEATED = ThinSheet(PANEL_CAPACITY, BOTH * 40.0, BOTH * 0.8)
COOLED = ThinSheet(PANEL_CAPACITY, BOTH * 10.0, BOTH * 0.8)


def _to_cure() -> float:
    return time_to_reach(HEATED, 25.0 + ICE, 150.0 + ICE, 175.0 + ICE)


def _leaving() -> float:
    return temperature_after(HEATED, 150.0 + ICE, 175.0 + ICE, 300.0)


def _total() -> float:
    return _to_cure() + 300.0 + time_to_reach(COOLED, _leaving(), 37.0 + ICE, 25.0 + ICE)


def _bead() -> float:
    return time_to_reach(BEAD, 25.0 + ICE, 199.0 + ICE, 200.0 + ICE)


def _skin(emissivity: float) -> float:
    sheet = ThinSheet(SKIN.capacity, SKIN.convection, emissivity)
    return time_to_reach(sheet, 21.0 + ICE, 118.0 + ICE, 121.0 + ICE)


CASES: tuple[Case, ...] = (
    Case(BOOK, "coated panel: to 150 degC [s]", _to_cure, 124.0, 1.24, "a per cent: the book steps by hand"),
    Case(BOOK, "coated panel: leaves the oven at [degC]", lambda: _leaving() - ICE, 175.0, 0.5, "printed to a degree"),
    Case(BOOK, "coated panel: heated, cured and cooled [s]", _total, 989.0, 9.9, "a per cent: the book steps by hand"),
    Case(BOOK, "thermocouple bead: to 199 degC [s]", _bead, 5.2, 0.05, "printed to a tenth"),
    Case(CLOSED, "thermocouple bead: to 199 degC [s]", _bead, 5.1656, 1e-4 * 5.1656),
    Case(CLOSED, "0.8 mm skin: to 118 in air of 121 degC [s]", partial(_skin, 0.0), 135.984, 1e-4 * 135.984),
    Case(
        CLOSED, "the same by the integral that radiation needs [s]", partial(_skin, 1e-12),
        SKIN.capacity / SKIN.convection * math.log(100.0 / 3.0), 1e-6,
    ),
)  # fmt: skip
