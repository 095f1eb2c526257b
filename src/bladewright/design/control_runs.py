"""The control runs that may hold a blade's pitch, and the rotor speeds at which it is judged."""

import math
from dataclasses import dataclass

from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.rotor import Rotor
from bladewright.figures import Missing

SOFT, STIFF, LOOSE = "soft control run", "stiff control run", "control run loose in its slack"
POWER_ON, POWER_OFF = "power on", "power off"
RPM = 60.0 / (2.0 * math.pi)  # of a radian per second


@dataclass(frozen=True, slots=True)
class ControlRun:
    """What holds the blade's pitch, in the trade's words."""

    words: str
    stiffness: float  # about the feathering axis [N m/rad]


@dataclass(frozen=True, slots=True)
class SpeedRange:
    """Rotor speeds the blade is used at."""

    words: str
    least: float  # [rad/s]
    greatest: float  # [rad/s]


def control_runs(rotor: Rotor) -> tuple[ControlRun, ...]:
    """The soft and the stiff control run, as far as they are entered."""
    run = rotor.control
    if run is None:
        return ()
    entered = ((SOFT, run.stiffness_low), (STIFF, run.stiffness_high))
    return tuple(ControlRun(words, value) for words, value in entered if value is not None)


def speed_ranges(rotor: Rotor) -> tuple[SpeedRange, ...]:
    """The power-off and the power-on range, as far as both ends are entered."""
    speeds = rotor.speeds
    ends = (
        (POWER_OFF, speeds.power_off_least, speeds.power_off_greatest),
        (POWER_ON, speeds.power_on_least, speeds.power_on_greatest),
    )
    return tuple(
        SpeedRange(words, least, greatest)
        for words, least, greatest in ends
        if least is not None and greatest is not None
    )


def greatest_speed(rotor: Rotor) -> float:
    """The fastest the rotor is ever allowed to turn, power off included, as far as entered. [rad/s]"""
    speeds = rotor.speeds
    entered = (speeds.normal, speeds.power_on_greatest, speeds.power_off_greatest)
    return max(speed for speed in entered if speed is not None)


def slowest_speed(rotor: Rotor) -> float:
    """The slowest the rotor is ever allowed to turn in flight, as far as entered. [rad/s]"""
    speeds = rotor.speeds
    entered = (speeds.normal, speeds.power_on_least, speeds.power_off_least)
    return min(speed for speed in entered if speed is not None)


def root_gaps(drawing: BladeDrawing, answer: str) -> tuple[Missing, ...]:
    """What keeps the blade from being held in its rotor: rotor, speeds, or the control run's stiffness."""
    rotor = drawing.rotor
    if rotor is None:
        return (Missing(answer, ("rotor",)),)
    needs = [
        f"rotor.speeds.{name}"
        for name in ("power_on_least", "power_on_greatest", "power_off_least", "power_off_greatest")
        if getattr(rotor.speeds, name) is None
    ]
    if rotor.control is None:
        needs.append("rotor.control")
    else:
        needs += [
            f"rotor.control.{name}"
            for name in ("stiffness_low", "stiffness_high")
            if getattr(rotor.control, name) is None
        ]
    return (Missing(answer, tuple(needs)),) if needs else ()


def taken_for_want(rotor: Rotor, answer: str) -> tuple[Missing, ...]:
    """What an answer takes as usual for want of an entry, and so is not the whole answer."""
    needs = [f"rotor.{name}" for name in ("collective_least", "collective_greatest") if getattr(rotor, name) is None]
    needs += ["rotor.precone"] if rotor.precone is None and rotor.hub != "hinged" else []
    return (Missing(f"{answer} at both ends of the collective and with its cone", tuple(needs)),) if needs else ()
