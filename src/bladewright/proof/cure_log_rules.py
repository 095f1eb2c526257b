"""Whether the log itself can be believed: its clock, its holes, and sensors that went silent or froze."""

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.figures import Finding, Outcome, Where, counted
from bladewright.proof.dwell import Dwell, possible_dwell
from bladewright.proof.mould import HOLE, Mould, heaters_of
from bladewright.proof.sensors import Stretch, where
from bladewright.proof.wording import every, fahrenheit, fahrenheit_steps, minutes, no_limit, ruled

CLOCK, HOLES, SENSORS = "cure: clock", "cure: holes in the log", "cure: mould sensors"
UNCERTAINTY = "cure: sensor uncertainty"
SHOWN = 12  # places a finding names; the rest are counted


def clock_is_certain(mould: Mould, _: CureLimits) -> Finding:
    """Whether the order of the rows is the order of time."""
    log = mould.log
    remarks = " ".join(f"{remark.what[:1].upper()}{remark.what[1:]}." for remark in log.remarks)
    certain = log.order_certain
    sentence = "The order of the rows is the order of time." if certain else "Nothing says which row came first."
    if log.start is None:
        sentence += " The log counts seconds only: its day is not in it."
    return ruled(
        rule=CLOCK,
        outcome=Outcome.PASS if certain else Outcome.REFER,
        sentence=f"{sentence} {remarks}".strip(),
        proof="cure",
        limit="times in order, and known",
        limit_source="a logger description declares the order",
        where=tuple(Where(log.source.file, remark.column, remark.row) for remark in log.remarks[:SHOWN]),
        next_step="Ask for the logger's own export with offsets, or declare the order of its rows.",
        would_change="an export whose stamps carry their offset from UTC",
    )


def log_has_no_holes(mould: Mould, limits: CureLimits) -> Finding:
    """Steps of more than twice the nominal interval; a hole ends a dwell and hides what was in it."""
    log, holes = mould.log, mould.holes
    nominal = minutes(limits.sample_interval)
    places = tuple(
        Where(log.source.file, "", int(log.rows[i]), log.time_of(int(i)), log.time_of(int(i) + 1))
        for i in holes[:SHOWN]
    )
    lengths = [minutes(float(log.seconds[i + 1] - log.seconds[i])) for i in holes]
    sentence = f"No step is longer than {HOLE:g} intervals of {nominal:.4g} min."
    if lengths:
        sentence = (
            f"{counted(len(lengths), 'hole')} in the log, the longest {max(lengths):.1f} min; "
            "what happened there is not known."
        )
    return ruled(
        rule=HOLES,
        outcome=Outcome.REFER if lengths else Outcome.PASS,
        sentence=sentence,
        proof="cure",
        limit=f"no step over {HOLE * nominal:.4g} min",
        limit_source="common practice, no source",
        where=places,
        next_step="A person decides, with the other recorders of that run.",
        would_change="a second recorder that ran through the hole",
    )


def uncertainty_is_entered(_: Mould, limits: CureLimits) -> Finding:
    """Without the sensors' uncertainty a value just inside a limit cannot be told from one outside."""
    if limits.sensor_uncertainty is None:
        return no_limit(UNCERTAINTY, "cure", "limits.cure.sensor_uncertainty")
    return ruled(
        rule=UNCERTAINTY,
        outcome=Outcome.PASS,
        sentence=f"Mould sensors are known within {fahrenheit_steps(limits.sensor_uncertainty):.3g} degF (k = 2).",
        proof="cure",
        limit="entered",
        limit_source=limits.source,
    )


def sensors_spoke(mould: Mould, limits: CureLimits) -> Finding:
    """Mould sensors with no reading, or with one reading repeated while others moved; and what their heater did."""
    log = mould.log
    said = []
    for what, stretches in (
        ("gave no reading", mould.silent),
        ("repeated one reading while others moved", mould.frozen),
    ):
        names = sorted({log.channels[stretch.column].name for stretch in stretches})
        said += [f"{', '.join(names)} {what}."] if names else []
    both = (*mould.silent, *mould.frozen)
    dwell = possible_dwell(mould, limits) if both else None
    said += [_heater_meanwhile(mould, stretch, dwell) for stretch in both[:SHOWN]]
    return ruled(
        SENSORS,
        Outcome.REFER if both else Outcome.PASS,
        " ".join(filter(None, said)) or f"{every(len(mould.columns), 'mould sensor')} read and moved.",
        proof="cure",
        limit=f"every sensor reads; fewer than {limits.frozen_samples} identical readings while another moves",
        limit_source=limits.source,
        where=tuple(where(log, stretch) for stretch in both[:SHOWN]),
        next_step="Hold the blade: see what the neighbouring zones and the heater did meanwhile.",
        would_change="a calibrated second sensor in that zone",
    )


def _heater_meanwhile(mould: Mould, stretch: Stretch, dwell: Dwell | None) -> str:
    """What the heater of a lost sensor's zone read in the dwell: a hint for a person, never a proof."""
    log = mould.log
    if dwell is None:
        return ""
    first, last = max(stretch.first, dwell.first), min(stretch.last, dwell.last)
    for heater in heaters_of(mould, stretch.column):
        readings = log.values[first : last + 1, heater]
        if np.isfinite(readings).any():
            low, high = (fahrenheit(float(pick(readings))) for pick in (np.nanmin, np.nanmax))
            sensor = log.channels[stretch.column].name
            return (
                f"In the dwell, while {sensor} was lost, {log.channels[heater].name} read {low:.0f} to {high:.0f} degF."
            )
    return ""
