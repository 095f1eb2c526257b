"""Elapsed time over a clock change, against the zone rules."""

from functools import partial

import numpy as np
import polars as pl

from bladewright.errors import BadInput
from bladewright.evidence.clock import read_clock
from bladewright.evidence.description import TimeForm
from bladewright.selfcheck.case import Case

_SOURCE = "IANA, Time Zone Database, America/New_York, rules of 2024 (closed form)"
_EXACT = "whole minutes"


def _minutes(*local: str) -> float:
    """From the first to the last local stamp of a log in New York."""
    form = TimeForm(columns=("time",), zone="America/New_York", format="%Y-%m-%d %H:%M", file_order_is_time_order=True)
    complaints: list[BadInput] = []
    clock = read_clock(pl.Series(local), form, np.arange(len(local), dtype=np.int64), "", complaints)
    if complaints:
        raise complaints[0]
    return float(clock.micros[-1] - clock.micros[0]) / 60e6


CASES: tuple[Case, ...] = (
    Case(
        _SOURCE,
        "00:30 to 02:30 on 2024-11-03, when the clock went back [min]",
        partial(_minutes, "2024-11-03 00:30", "2024-11-03 02:30"),
        180.0,
        1e-9,
        _EXACT,
    ),
    Case(
        _SOURCE,
        "01:30 to 03:30 on 2024-03-10, when the clock went forward [min]",
        partial(_minutes, "2024-03-10 01:30", "2024-03-10 03:30"),
        60.0,
        1e-9,
        _EXACT,
    ),
    Case(
        _SOURCE,
        "first 01:10 to second 01:30 on 2024-11-03, in the order logged [min]",
        partial(_minutes, "2024-11-03 01:10", "2024-11-03 01:50", "2024-11-03 01:00", "2024-11-03 01:30"),
        80.0,
        1e-9,
        _EXACT,
    ),
)
