"""From what the drawing enters of film, oven and controller to the engine's records, and what they rest on.

The one door for whoever plans a cure and whoever asks what a fault took, so that both mean the same film and oven.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.drawing.cure_entries import CureKinetics, OvenEntries
from bladewright.drawing.entries import entry_at
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import CureLimits
from bladewright.drawing.oven import CureSchedule
from bladewright.engine.arrays import Floats
from bladewright.engine.cure.control import Schedule
from bladewright.engine.cure.identify import Identified
from bladewright.engine.cure.oven import COUNTS, Oven
from bladewright.errors import BadInput, BladewrightError, MissingInput, SeveralBadInputs

COVERAGE = 2.0  # factor of an entered uncertainty, k = 2 (DESIGN: every uncertainty is)


@dataclass(frozen=True, slots=True)
class Rests:
    """One input an answer rests on, and whether somebody entered where it comes from."""

    on: str  # like "adhesive.kinetics"
    source: str  # "" where none is entered

    def __str__(self) -> str:
        return f"{self.on}: {self.source or 'no source entered, unvalidated data'}"


def room_of(oven: OvenEntries) -> float:
    """Where everything begins. [K]"""
    if oven.room is None:
        raise MissingInput(
            "is needed for this answer and not entered", field="oven.room", allowed='a temperature, like "70 degF"',
            fix="enter the shop's usual one",
        )  # fmt: skip
    return oven.room


#: what must be more than nothing before a run can be planned or simulated, and what must not be less
_MORE = ("dwell_least", "dwell_greatest", "ramp_greatest", "cool_greatest", "ramp_window")
_NOT_LESS = ("below", "above", "sensor_uncertainty", "spread_greatest", "ramp_least")


def require_sound(limits: CureLimits) -> None:
    """Raise with every limit that no cure could be planned or weighed by, whatever a log may be judged by."""
    wrong = {name: "more than 0" for name in _MORE if (value := getattr(limits, name)) is not None and not value > 0.0}
    wrong |= {name: "0 or more" for name in _NOT_LESS if (value := getattr(limits, name)) is not None and value < 0.0}
    if wrong:
        raise SeveralBadInputs(
            BadInput("cannot be", field=f"limits.cure.{name}", value=getattr(limits, name), allowed=allowed)
            for name, allowed in wrong.items()
        )


def validated(rests: Sequence[Rests]) -> bool:
    """Whether every input has a source."""
    return all(rest.source for rest in rests)


def require(drawing: BladeDrawing, fields: Sequence[str], file: str = "") -> None:
    """Raise with every entry that is not there."""
    gaps: list[BladewrightError] = [
        MissingInput("is needed for this answer and not entered", file=file or None, field=field, fix="enter it")
        for field in fields
        if entry_at(drawing, field) is None
    ]
    if gaps:
        raise SeveralBadInputs(gaps) if len(gaps) > 1 else gaps[0]


def entered_kinetics(drawing: BladeDrawing) -> CureKinetics | None:
    """The film's kinetics as the drawing has them."""
    return None if drawing.adhesive is None else drawing.adhesive.kinetics


def oven_known(entered: OvenEntries) -> Identified:
    """The oven and how well it is known: as its survey told, or each entry within the entered scatter."""
    oven, fit = entered.oven, entered.fit
    if fit is None:
        if entered.scatter is None:
            raise MissingInput(
                "nothing says how well the oven is known", field="oven.scatter", allowed='a part, like "12 %"',
                fix="enter it, or fit the oven to a survey of it",
            )  # fmt: skip
        fields: tuple[tuple[str, int | None], ...] = tuple(
            (name, zone) for name, count in COUNTS.items() if name != "greatest_power" for zone in range(count)
        )
        covariance = np.eye(len(fields)) * entered.scatter**2
        return _known(oven, fields, covariance, COVERAGE, 0.0)
    return _known(oven, tuple(map(_unknown, fit.unknowns)), np.array(fit.covariance), fit.coverage, fit.misfit)


def _known(
    oven: Oven, fields: tuple[tuple[str, int | None], ...], covariance: Floats, coverage: float, misfit: float
) -> Identified:
    names = tuple(name if zone is None else f"{name} {zone + 1}" for name, zone in fields)
    return Identified(oven, names, fields, np.ones(len(fields)), covariance, coverage, misfit, ())


def _unknown(text: str) -> tuple[str, int | None]:
    """``"mould_loss 4"`` as entry and zone."""
    name, _, number = text.partition(" ")
    if name not in COUNTS or (number and not (number.isdecimal() and 1 <= int(number) <= COUNTS[name])):
        raise BadInput("is no entry of an oven", field="oven.fit.unknowns", value=text, fix="fit the survey again")
    return name, int(number) - 1 if number else None


def schedule_of(entered: CureSchedule, room: float) -> Schedule:
    """Set temperatures over time, from a room's temperature [K] up and down to it again."""
    seconds, kelvin = [0.0], [room]

    def to(temperature: float, rate: float) -> None:
        seconds.append(seconds[-1] + max(abs(temperature - kelvin[-1]) / rate, 1.0))
        kelvin.append(temperature)

    def stay(time: float) -> None:
        seconds.append(seconds[-1] + time)
        kelvin.append(kelvin[-1])

    if entered.hold is not None and entered.hold_temperature is not None:
        to(entered.hold_temperature, entered.ramp)
        stay(entered.hold)
    to(entered.target, entered.ramp)
    stay(entered.dwell)
    to(room, entered.cool)
    return Schedule(np.array(seconds), np.array(kelvin), room)


def cure_rests(drawing: BladeDrawing, oven: OvenEntries) -> tuple[Rests, ...]:
    """What every answer about a simulated cure rests on."""
    kinetics, limits = entered_kinetics(drawing), drawing.limits.cure
    found = [Rests("oven", oven.source or "")]
    if oven.fit is not None:
        found = [Rests("oven", f"survey {oven.fit.survey}")]
    if kinetics is not None:
        found.append(Rests("adhesive.kinetics", kinetics.source or ""))
    if limits is not None:
        found.append(Rests("limits.cure", limits.source or ""))
    return tuple(found)
