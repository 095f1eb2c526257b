"""What is checked before heat, and what a person does when a run goes otherwise than planned.

Common practice, no source; the wording is ours. The shop's own process sheet goes before it.
"""

from dataclasses import dataclass

from bladewright import units
from bladewright.drawing.limits import CureLimits


@dataclass(frozen=True, slots=True)
class Check:
    """Something to be done and ticked before heat."""

    what: str
    how: str


@dataclass(frozen=True, slots=True)
class Otherwise:
    """What may happen, and what to do then."""

    happens: str
    do: str


def before_heat(limits: CureLimits) -> tuple[Check, ...]:
    """What must be so before a heater is switched on."""
    pressure = "to the pressure the process asks"
    if limits.pressure_least is not None:
        low = units.written(limits.pressure_least, "psi", "pressure", 4)
        high = limits.pressure_greatest and units.written(limits.pressure_greatest, "psi", "pressure", 4)
        pressure = f"between {low} and {high} gauge" if high else f"at least {low} gauge"
    begins = "any heat"
    if limits.heat_begins is not None:
        begins = f"any mould sensor is above {units.written(limits.heat_begins, 'degF', 'temperature', 4)}"
    return (
        Check("bladder leak test", "Shut off at pressure, wait, read again; write down both readings. Stand clear."),
        Check("relief valve", "Lifts at its set pressure and is inside its due date; its outlet is free."),
        Check(
            "sensors", "Six mould and six heater sensors read the room within their uncertainty; due dates not past."
        ),
        Check("sensor places", "Warm one zone by hand: its own sensor moves, and no other."),
        Check("logger", "Runs, its clock is right and its file grows before heat."),
        Check("clean mould", "No old film, no release agent where bonds are, no silicone near; vents free."),
        Check("lay-up record", "Signed; film's hours left, surface treatment and room inside their limits."),
        Check("independent over-temperature cut-out", "Tested: it is hardware, and nothing here replaces it."),
        Check("pressure on", f"{pressure[0].upper()}{pressure[1:]}, before {begins}."),
    )


def if_otherwise(limits: CureLimits) -> tuple[Otherwise, ...]:
    """What may happen, the worst for the bond or for people first."""
    hot = units.written(limits.overshoot_greatest or limits.target + limits.above, "degF", "temperature", 4)
    told = {
        "The bladder bursts": "Stand clear, shut the supply, heat off. Nobody opens a hot mould under pressure.",
        "Pressure falls before the slowest zone has gelled": "Heat off, keep what pressure there is, hold the blade. "
        "No second dwell settles a film that did not wet.",
        "Pressure does not hold before heat": "Do not heat. Let it off, find the leak, test again.",
        f"A mould sensor passes {hot}": "Cut the heat at the independent cut-out, keep pressure. What film and temper "
        "bear is for a person to decide.",
        "A mould sensor gives nothing or freezes": "If it steers its zone, cut that zone's heat: a controller without "
        "its sensor may heat without end. Keep pressure, let the rest end as set, add no time by hand. Hold the blade; "
        "judge the log, then ask what it cost (cure-cost).",
        "A heater dies": "Keep pressure, let the run end as set, hold the blade; judge the log, then cure-cost.",
        "The power goes": "Keep pressure, leave the mould shut, note both times. Heat again only on a named person's "
        "decision.",
        "A zone stays behind": "Do not raise its set point in the dwell. What the log proves is what counts.",
    }
    return tuple(Otherwise(happens, do) for happens, do in told.items())
