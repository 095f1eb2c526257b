"""Six heated zones in a row with a part on each: steady state and time constants, all figures invented."""

from dataclasses import dataclass
from functools import cache, partial

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.network import HeatNetwork, steady_temperature, time_constants
from bladewright.selfcheck.case import Case

SOURCE = "balance of heat of twelve bodies with invented conductances, recomputed; closed form"
ROOM, ZONES = 21.0, 6
ENDS_HOT = (330.0, 225.0, 225.0, 225.0, 225.0, 330.0)
ONE_DEAD = (330.0, 225.0, 225.0, 0.0, 225.0, 330.0)


@dataclass(frozen=True, slots=True)
class Steady:
    """Printed temperatures under one set of powers."""

    name: str
    power: tuple[float, ...]
    mould: tuple[float, ...]
    part: tuple[float, ...]


TABLE = (
    Steady(
        "all zones heated", ENDS_HOT,
        (124.2463, 123.9049, 123.8017, 123.8017, 123.9049, 124.2463),
        (119.3090, 119.0180, 118.9138, 118.9138, 119.0180, 119.3090),
    ),
    Steady(
        "zone 4 dead", ONE_DEAD,
        (122.0996, 117.9330, 106.6775, 73.4714, 106.7120, 118.0866),
        (116.9869, 112.8078, 101.4978, 74.7897, 101.5177, 112.6671),
    ),
    Steady("powers that hold 121 degC", (335.0, 230.0, 230.0, 230.0, 230.0, 335.0), (126.0,) * ZONES, (121.0,) * ZONES),
)  # fmt: skip
#: number from the slowest: seconds
CONSTANTS = {0: 2016.1, 1: 1529.5, 2: 1085.2, 11: 142.89}


@cache
def row() -> HeatNetwork:
    """Mould bodies first, then a part on each."""
    half = np.zeros((2 * ZONES, 2 * ZONES))
    for zone in range(ZONES):
        half[zone, ZONES + zone] = 4.0
        if zone + 1 < ZONES:
            half[zone, zone + 1], half[ZONES + zone, ZONES + zone + 1] = 1.5, 0.3
    loss = np.array([3.0, 2.0, 2.0, 2.0, 2.0, 3.0, *[0.2] * ZONES])
    return HeatNetwork(np.repeat([4000.0, 900.0], ZONES), half + half.T, loss)


def settled(power: tuple[float, ...]) -> Floats:
    """Temperatures of all twelve. [degC]"""
    return steady_temperature(row(), np.array([*power, *[0.0] * ZONES]), ROOM)


def _at(power: tuple[float, ...], body: int) -> float:
    return float(settled(power)[body])


def _constant(number: int) -> float:
    return float(time_constants(row())[number])


CASES: tuple[Case, ...] = (
    *(
        Case(SOURCE, f"{steady.name}: {what} {zone + 1} [degC]", partial(_at, steady.power, first + zone), value, 1e-3)
        for steady in TABLE
        for what, first, values in (("mould", 0, steady.mould), ("part", ZONES, steady.part))
        for zone, value in enumerate(values)
    ),
    *(
        Case(SOURCE, f"time constant {number + 1} of 12 [s]", partial(_constant, number), seconds, 0.1)
        for number, seconds in CONSTANTS.items()
    ),
)
