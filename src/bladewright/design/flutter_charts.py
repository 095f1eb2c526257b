"""Pictures of the flutter margin: over the rotor speed as drawn, and of every state the blade may get into."""

from collections.abc import Iterator

import numpy as np

from bladewright.design.control_runs import RPM
from bladewright.design.flutter_cases import MarginCase
from bladewright.design.flutter_margin import MILLI, FlutterMargin
from bladewright.figures import Axis, Bars, Chart, Curve, Level

AFT = Axis("how far aft the mass centre may move", "mm")
SHOWN = 40.0  # [mm] beyond it nobody builds a blade, and the near lines could not be told apart
NOTE = (
    "Each line: where the first motion begins with that control run, the blade as drawn. Below zero it has begun. "
    "A gap: nothing begins, or further off than is shown. Hover, no structural damping: a screen."
)


def flutter_charts(found: FlutterMargin) -> tuple[Chart | Bars, ...]:
    """The margin over rotor speed and the margin of every state; none where there is no margin to draw."""
    if not found.cases:
        return ()
    return _over_speed(found), _of_states(found)


def _over_speed(found: FlutterMargin) -> Chart:
    drawn = [case for case in found.cases if case.name == found.cases[0].name]
    curves = [curve for case in drawn for curve in _lines(case)]
    levels = (Level("asked for", MILLI * found.asked),) if found.asked is not None else ()
    title = "Flutter and divergence over rotor speed, as drawn"
    return Chart("flutter-speed", title, Axis("rotor speed", "rpm"), AFT, tuple(curves), levels, NOTE)


def _lines(case: MarginCase) -> Iterator[Curve]:
    """One line for each control run: the first to begin at each rotor speed, of whatever pattern and motion."""
    for control in dict.fromkeys(onset.control for onset in case.onsets):
        first: dict[float, float] = {}
        for onset in case.onsets:
            if onset.control == control:
                offset = np.inf if onset.offset is None else onset.offset
                first[onset.speed] = min(offset, first.get(onset.speed, np.inf))
        aft = {speed: MILLI * (offset - case.offset) for speed, offset in sorted(first.items())}
        shown = tuple(value if abs(value) < SHOWN else None for value in aft.values())
        if any(value is not None for value in shown):
            yield Curve(control, tuple(RPM * speed for speed in aft), shown)


def _of_states(found: FlutterMargin) -> Bars:
    rows = [
        (f"{case.name}, {'in the slack' if case.slack else 'held'}", MILLI * case.aft)
        for case in found.cases
        if case.aft is not None
    ]
    note = "The worst rotor speed and control run of each state. Below zero the motion has begun."
    return Bars("flutter-states", "What service does to the flutter margin", AFT, tuple(rows), note)
