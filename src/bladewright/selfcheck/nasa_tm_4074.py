"""A tripped 12 % symmetric section at Re 6e6: drag and lift against the measurements of NASA TM 4074."""

from functools import cache, partial

import numpy as np

from bladewright.engine.flow.section_polar import SectionFlowField, Surface, section_flow_field
from bladewright.engine.geometry.designated import designated_outline
from bladewright.engine.geometry.mean_lines import designated_mean_line
from bladewright.selfcheck.case import Case

SOURCE = "C. L. Ladson, NASA TM 4074, 1988, fixed transition (a public tabulation; trip place from memory)"
DRAG = "8 % at small lift, 15 % at 10 deg and beyond: the two grits differ by 4 %"
LIFT = "0.02 or 3 %: the two grits differ by 0.015, and the zero is 0.1 deg off"
#: angle [deg], lift, drag; by grit number 80 and 180
NUMBER_80 = (
    (-0.05, -0.0126, 0.00809),
    (2.05, 0.2125, 0.00816),
    (4.04, 0.4316, 0.00823),
    (6.09, 0.6546, 0.00885),
    (10.12, 1.0707, 0.01201),
    (15.26, 1.5129, 0.01900),
)
NUMBER_180 = ((2.00, 0.2213, 0.00814), (6.09, 0.6558, 0.00851), (10.18, 1.0809, 0.01165), (17.13, 1.6219, 0.02513))
POINTS = NUMBER_80 + NUMBER_180
TOO_HIGH = (1, 2, 3, 4, 7, 8)  # points where our lift is known to miss the band
NEAR_GREATEST = (5, 9)  # points beyond 12 deg, where no band is stated for lift
HIGH = (
    "4 to 7 % high; left out, each lowering it by some 2 % in trials: the bend of the wake, and moving the wall "
    "outward instead of blowing through it"
)
TRIP = 0.05  # [chord fraction]


@cache
def _field() -> SectionFlowField:
    outline = designated_outline(designated_mean_line("0012"), 0.12, "open")
    angle = np.radians([angle for angle, _, _ in POINTS])
    one = np.ones(angle.size)
    return section_flow_field(outline, angle, 6e6 * one, 0.15 * one, Surface(trip_top=TRIP, trip_bottom=TRIP))


def value(name: str, number: int) -> float:
    """Lift or drag at one of the points."""
    return float(getattr(_field(), name)[number])


CASES: tuple[Case, ...] = (
    *(
        Case(
            SOURCE,
            f"0012 tripped, {angle:g} deg, point {number}: drag [1]",
            partial(value, "drag", number),
            drag,
            (0.08 if abs(lift) < 0.5 else 0.15) * drag,
            DRAG,
        )
        for number, (angle, lift, drag) in enumerate(POINTS)
    ),
    *(
        Case(
            SOURCE,
            f"0012 tripped, {angle:g} deg, point {number}: lift [1]",
            partial(value, "lift", number),
            lift,
            0.012 if number == 0 else max(0.02, 0.03 * lift),
            LIFT,
            disagrees=HIGH if number in TOO_HIGH else "",
        )
        for number, (angle, lift, _) in enumerate(POINTS)
        if number not in NEAR_GREATEST
    ),
)
