"""Small cure logs judged by hand: ramps, dwells and spreads that can be read off the tables below.

The band, the rates and the window are common practice, no source; what follows from them is arithmetic.
"""

from collections.abc import Callable
from dataclasses import dataclass
from io import StringIO

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import Channel, CureLog, Source
from bladewright.proof.dwell import Dwell, dwell_of
from bladewright.proof.mould import read_mould
from bladewright.proof.rates import fastest
from bladewright.selfcheck.case import Case
from bladewright.units import from_si, scale_and_zero

SOURCE = "worked by hand from the printed table; closed form; band, rates and window common practice, no source"
_USUAL = {
    "target": "121 degC",
    "below": "3 K",
    "above": "3 K",
    "dwell_least": "60 min",
    "ramp_greatest": "2.8 K/min",
    "ramp_window": "10 min",
    "spread_greatest": "5 K",
    "sample_interval": "5 min",
}


@dataclass(frozen=True, slots=True, eq=False)
class Worked:
    """A log as printed, the limits it is judged by, and the unit it is printed in."""

    log: CureLog
    limits: CureLimits
    unit: str


def worked(name: str, table: str, unit: str = "degC", **limits: str) -> Worked:
    """A log from a table of columns: minutes first, then the mould sensors; ``nan`` where a sensor was open."""
    columns = np.loadtxt(StringIO(table), ndmin=2)
    scale, zero = scale_and_zero(unit, "temperature")
    log = CureLog(
        source=Source(f"{name}.csv", "0" * 64),
        description="worked by hand",
        start=None,
        seconds=(columns[0] - columns[0, 0]) * 60.0,
        channels=tuple(Channel(f"Z{zone}", "mould", str(zone)) for zone in range(1, len(columns))),
        values=(columns[1:] * scale + zero).T,
        rows=np.arange(2, columns.shape[1] + 2),
    )
    return Worked(log, CureLimits.model_validate({**_USUAL, **limits}), unit)


GOOD = worked(
    "good",
    """
    0 5 10 15 20 25 30 35 40 45 50 55 60 65 70 75 80 85 90 95 100 105 110 115 120 125
    22.0 33.0 45.0 57.0 69.0 81.0 93.0 105.0 115.5 119.6 120.8 121.1 121.2 121.0 120.9 121.0 121.1 121.2 \
      121.1 121.0 120.9 121.0 121.1 120.7 112.4 103.9
    21.5 32.1 43.8 55.6 67.3 79.1 90.9 102.7 113.0 117.6 119.2 119.9 120.1 120.2 120.0 120.1 120.2 120.3 \
      120.2 120.0 120.1 120.2 120.1 119.6 111.0 102.2
    22.3 33.5 45.6 57.8 70.0 82.1 94.1 106.2 116.6 120.5 121.7 122.0 122.1 122.0 121.9 122.0 122.1 122.2 \
      122.0 121.9 121.8 121.9 122.0 121.5 113.3 104.8
    """,
)
NOISY = worked(
    "noisy",
    """
    0 1 2 3 4 5 6 7 8 9 10 11 12 13 14 15
    60.0 62.2 64.5 66.6 68.9 71.1 75.0 75.5 77.8 80.0 82.2 84.4 86.6 88.9 91.1 93.3
    59.4 61.5 63.7 65.9 68.0 70.2 72.4 74.6 76.8 78.9 81.1 83.3 85.4 87.6 89.8 92.0
    """,
    sample_interval="1 min",
    ramp_window="5 min",
)
DIP = worked(
    "dip",
    """
    0 5 10 15 20 25 30 35 40 45 50 55 60 65 70 75 80 85 90
    116.9 119.4 120.6 121.0 121.1 121.2 121.0 120.8 120.9 121.0 121.1 121.0 121.0 121.1 121.2 121.0 120.9 120.7 113.0
    115.8 118.0 118.9 119.2 119.4 119.3 118.9 118.4 118.2 117.9 118.3 118.8 119.1 119.3 119.4 119.3 119.2 118.9 111.6
    117.4 119.9 121.0 121.4 121.5 121.6 121.4 121.2 121.3 121.4 121.5 121.4 121.5 121.6 121.6 121.5 121.4 121.2 113.5
    """,
)
HOLE = worked(
    "hole",
    """
    0 5 10 15 20 25 30 35 40 65 70 75 80 85 90 95 100 105
    112.5 118.6 120.4 121.0 121.2 121.1 121.0 121.0 121.1 121.0 121.1 121.0 121.0 120.9 121.0 121.0 120.8 114.0
    111.7 117.7 119.6 120.3 120.5 120.4 120.3 120.4 120.5 120.4 120.4 120.3 120.2 120.3 120.3 120.4 120.2 113.1
    """,
)
DEAD_AND_FROZEN = worked(
    "dead-and-frozen",
    """
    0 5 10 15 20 25 30 35 40 45 50 55 60 65 70 75 80 85 90
    96.0 108.0 116.8 119.9 120.8 121.1 121.3 121.6 122.0 122.3 122.5 122.1 121.6 121.2 121.0 121.1 121.0 120.9 114.2
    95.1 107.0 115.9 119.0 120.0 120.3 120.4 120.4 120.4 120.4 120.4 120.4 120.4 120.4 120.6 120.5 120.4 120.3 113.0
    97.0 109.1 117.7 120.6 121.4 121.7 nan nan nan nan nan nan nan nan nan nan nan nan nan
    """,
)
APART = worked(
    "apart",
    """
    0 5 10 15 20 25 30 35 40 45 50 55 60 65 70
    114.2 119.5 120.8 121.2 121.3 121.2 121.1 121.0 121.0 121.1 121.0 121.0 120.9 120.9 115.0
    114.0 119.0 120.2 120.6 120.7 120.7 120.6 120.5 120.5 120.5 120.4 120.4 120.4 120.3 114.2
    113.8 118.4 118.9 118.6 118.4 118.2 118.5 118.9 119.2 119.4 119.5 119.6 119.6 119.5 113.9
    114.5 120.1 121.9 123.0 123.6 123.8 123.4 122.8 122.3 122.0 121.8 121.7 121.6 121.6 115.3
    113.9 118.7 119.1 119.0 118.9 118.8 118.9 119.2 119.4 119.5 119.6 119.7 119.7 119.6 113.7
    114.1 119.2 120.6 121.0 121.1 121.0 120.9 120.8 120.8 120.8 120.7 120.7 120.6 120.6 114.6
    """,
)
TOUCHED = worked(
    "touched",
    """
    0 10 20 30 40 50 60 70 80 90 100 110 120 130
    231.0 244.6 247.2 249.5 251.0 253.9 255.0 254.2 252.8 251.6 250.9 250.4 249.8 243.8
    228.4 243.1 245.0 246.8 248.1 249.0 249.7 249.9 250.0 249.8 249.4 248.9 245.0 240.9
    """,
    unit="degF",
    target="250 degF",
    below="5 degF",
    above="5 degF",
    dwell_least="90 min",
    ramp_greatest="5 degF/min",
    ramp_window="20 min",
    spread_greatest="9 degF",
    sample_interval="10 min",
)


def fastest_rise(case: Worked) -> float:
    """The fastest rise over the window, in the case's own degrees. [degree/min]"""
    rate = fastest(read_mould(case.log, case.limits), case.limits.ramp_window)
    return from_si(rate.per_second if rate else np.nan, f"{case.unit}/min", "temperature rate")


def dwell(case: Worked) -> Dwell:
    """The dwell; an AssertionError where a case has none."""
    found = dwell_of(case.log, case.limits)
    assert found is not None
    return found


def spread(case: Worked) -> float:
    """Greatest difference between sensors during the dwell, in the case's own degrees. [degree]"""
    mould, held = read_mould(case.log, case.limits), dwell(case)
    apart = (mould.hottest - mould.coldest)[held.first : held.last + 1]
    return from_si(float(apart.max()), case.unit, "temperature difference")


def _case(quantity: str, ours: Callable[[], float], published: float, band: float = 1e-9) -> Case:
    return Case(SOURCE, quantity, ours, published, band, "arithmetic; as many digits as were worked out")


CASES: tuple[Case, ...] = (
    _case("good log: fastest rise [degC/min]", lambda: fastest_rise(GOOD), 2.44),
    _case("good log: dwell [min]", lambda: dwell(GOOD).seconds / 60.0, 65.0),
    _case("good log: dwell by straight lines [min]", lambda: dwell(GOOD).crossed / 60.0, 69.680, 1e-3),
    _case("good log: spread [K]", lambda: spread(GOOD), 2.5),
    _case("one noisy sample: fastest rise [degC/min]", lambda: fastest_rise(NOISY), 2.56),
    _case("one dip: dwell, runs never added [min]", lambda: dwell(DIP).seconds / 60.0, 35.0),
    _case("one dip: dwell by straight lines [min]", lambda: dwell(DIP).crossed / 60.0, 38.333, 1e-3),
    _case("hole: dwell, the hole not bridged [min]", lambda: dwell(HOLE).seconds / 60.0, 35.0),
    _case("dead and frozen sensor: dwell [min]", lambda: dwell(DEAD_AND_FROZEN).seconds / 60.0, 10.0),
    _case("too far apart: dwell [min]", lambda: dwell(APART).seconds / 60.0, 60.0),
    _case("too far apart: spread [K]", lambda: spread(APART), 5.6),
    _case("limits touched: dwell [min]", lambda: dwell(TOUCHED).seconds / 60.0, 100.0),
    _case("limits touched: spread [degF]", lambda: spread(TOUCHED), 5.3),
    _case("limits touched: fastest rise [degF/min]", lambda: fastest_rise(TOUCHED), 0.83, 0.0051),
)
