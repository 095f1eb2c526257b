"""The modes at normal rotor speed as a table for each pattern: a line for each mode, both control runs side by side."""

from collections.abc import Sequence

import numpy as np

from bladewright.design.control_runs import RPM, SOFT, STIFF
from bladewright.design.fans import Approach, Fan
from bladewright.design.frequencies import ALIKE, Frequencies
from bladewright.drawing.rotor import Rotor
from bladewright.engine.dynamics.blade_beam import Pattern
from bladewright.figures import rounded

HEADINGS = ("mode", "soft", "stiff", "per rev", "nearest", "gap", "where")  # soft and stiff in Hz
HERTZ = 1.0 / (2.0 * np.pi)
NONE = "-"


def mode_tables(found: Frequencies, rotor: Rotor) -> dict[str, list[tuple[str, ...]]]:
    """Under each pattern's words one row for each mode, in the order of the softer run; at the lowest collective."""
    lowest = min((fan.pitch for fan in found.fans), default=0.0)
    normal, tables = rotor.speeds.normal, {}
    for pattern in dict.fromkeys(fan.pattern for fan in found.fans):
        fans = [fan for fan in found.fans if fan.pattern == pattern and fan.pitch == lowest]
        rows = []
        for mode in dict.fromkeys(name for fan in fans for name in fan.names):
            runs = [_at(fans, run, mode, normal) for run in (SOFT, STIFF)]
            shown = (*map(_hertz, runs), _turns(runs, normal), *_nearest(found.nearest, pattern, mode))
            rows.append((mode, *shown))
        tables[ALIKE[pattern]] = rows
    return tables


def _at(fans: Sequence[Fan], control: str, mode: str, speed: float) -> float | None:
    """A mode's frequency with a control run at a rotor speed; None where it is not among those followed. [rad/s]"""
    return next(
        (float(fan.at(speed)[fan.names.index(mode)]) for fan in fans if fan.control == control and mode in fan.names),
        None,
    )


def _hertz(frequency: float | None) -> str:
    return NONE if frequency is None else rounded(HERTZ * frequency, None)


def _turns(runs: Sequence[float | None], speed: float) -> str:
    """Per revolution; once where both runs agree to the last place shown. Frequencies and speed in [rad/s]."""
    shown = dict.fromkeys(f"{run / speed:.2f}" for run in runs if run is not None)
    return " / ".join(shown)


def _nearest(nearest: Sequence[Approach], pattern: Pattern, mode: str) -> tuple[str, str, str]:
    """The harmonic that comes nearest in the whole range, how near, and where."""
    one = next((one for one in nearest if one.pattern == pattern and one.mode == mode), None)
    if one is None:
        return NONE, NONE, NONE
    run = one.control.removesuffix(" control run")
    return f"{one.harmonic}/rev", f"{100.0 * one.gap:.1f} %", f"{RPM * one.speed:.0f} rpm, {run}"
