"""What happened to each of the ten blades of the invented batch, before any instrument wrote it down."""

from dataclasses import dataclass
from datetime import date, time

import numpy as np

#: working days the shop is shut: Good Friday and Easter Monday of 2026 (calendar, Gregorian computus)
SHUT = (date(2026, 4, 3), date(2026, 4, 6))

#: working days from the cure to what is done to every blade
BEGUN, TORN, MEASURED, WEIGHED, FINISHED = -2, 1, 2, 6, 7


@dataclass(frozen=True, slots=True)
class Blade:
    """One blade of the batch. Differences are what its makers did, not what an instrument will read."""

    serial: str
    cured_on: date
    started: time  # by the clock on the shop's wall, when the logger was switched on
    span_moment: float | None  # [g m] more than the master; None: never weighed
    chordwise: float = 0.0  # [mm] further aft than the master
    reflex: float = 0.0  # [deg] more than drawn
    twist: float = 0.0  # [deg] more than drawn, at the tip
    peel: float = 23.0  # [lbf] on a coupon 1 in wide
    adhesion_failure: float = 0.0  # share of the coupon's top face
    ramp: float = 3.6  # [degF/min] asked of the heaters
    lost_zone: int = 0  # this mould sensor opens at ``lost_at``; 0: none
    lost_at: time = time.max

    def working_day(self, days: int) -> date:
        """The shop's working day so many after the cure; before it where negative."""
        found: date = np.busday_offset(self.cured_on, days, holidays=SHUT).astype(object)
        return found


#: in the order they were cured; the clocks went forward on 29 March
BLADES: tuple[Blade, ...] = (
    Blade("FM31-0107", date(2026, 3, 23), time(9, 12), 12.0, chordwise=0.04, reflex=0.03, twist=0.01, peel=23.8),
    Blade(
        "FM31-0108", date(2026, 3, 24), time(13, 11), 5.0, chordwise=-0.05, reflex=-0.02, peel=23.1,
        lost_zone=4, lost_at=time(14, 52),
    ),
    Blade(
        "FM31-0109", date(2026, 3, 25), time(9, 4), -9.0, chordwise=0.11, reflex=0.02, twist=-0.02, peel=18.6,
        adhesion_failure=0.62,
    ),
    Blade("FM31-0110", date(2026, 3, 26), time(9, 21), 44.0, chordwise=0.16, reflex=0.31, twist=0.02, peel=22.7),
    Blade(
        "FM31-0111", date(2026, 3, 27), time(9, 9), -22.0, chordwise=-0.08, reflex=0.01, twist=-0.01, peel=22.9,
        ramp=7.0,
    ),
    Blade("FM31-0112", date(2026, 3, 30), time(9, 15), -17.0, chordwise=0.02, reflex=0.01, twist=0.02, peel=23.4),
    Blade("FM31-0113", date(2026, 3, 31), time(9, 2), None, reflex=-0.03, twist=0.01, peel=22.8),
    Blade("FM31-0114", date(2026, 4, 1), time(9, 18), -41.0, chordwise=-0.14, reflex=-0.05, twist=-0.02, peel=23.2),
    Blade("FM31-0115", date(2026, 4, 2), time(9, 11), 46.0, chordwise=0.13, reflex=0.15, twist=0.01, peel=22.6),
    Blade("FM31-0116", date(2026, 4, 7), time(9, 7), -43.0, chordwise=-0.12, reflex=-0.04, twist=-0.01, peel=23.0),
)  # fmt: skip
