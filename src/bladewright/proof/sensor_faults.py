"""Sensor faults told from process faults, from a whole log. Suspicions for a person: they refer, and lift nothing.

What all sensors share is not seen here: the same wrong type on all of them, or a room that is warmer than it says.
"""

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.figures import Finding, Outcome
from bladewright.proof.mould import Mould
from bladewright.proof.sensor_explained import Explained, explained
from bladewright.proof.sensor_readings import Readings, spread_out
from bladewright.proof.sensor_seen import seen
from bladewright.proof.sensor_suspicion import Kind, Suspicion
from bladewright.proof.sensor_swaps import swapped
from bladewright.proof.sensors import Stretch, where
from bladewright.proof.wording import fahrenheit_steps, ruled

FAULTS = "cure: sensor faults"
#: a suspicion below this likelihood is not told (our own choice)
TOLD = 0.3
#: nothing is suspected that departs by less than new wire of class 1 may (IEC 60584-1) [K]
MATTERS = 1.5
#: sensors nearer to each other than this need no explanation [K], our own choice
NEAR = 1.0
LIKELIHOOD = (
    "likelihood: the fault's share among a zone that lags or runs warmer, a zone that changed, four sensor faults and "
    "none of these, by how well each explains the departure; shares before and sizes expected are our own choice"
)


def suspect_sensors(mould: Mould) -> tuple[Suspicion, ...]:
    """Every suspicion against a mould sensor, the likeliest first; open and stuck ones among them."""
    found = [*seen(mould), *swapped(mould)]
    taken = {name for one in found for name in one.channels if one.kind == "swapped channels"}
    found += [one for one in _departing(mould) if not taken & set(one.channels)]
    return tuple(sorted((one for one in found if one.likelihood >= TOLD), key=lambda one: -one.likelihood))


def _departing(mould: Mould) -> list[Suspicion]:
    """The sensor furthest from the others explained, then the next without it; with two left it may be either."""
    readings = spread_out(mould).heated()
    left = list(range(len(readings.columns)))
    found: list[Suspicion] = []
    while len(left) >= 2:
        far = [_departure(readings, place, left) for place in left]
        if not max(far) > NEAR:
            break
        place = left[int(np.argmax(far))]
        others = [other for other in left if other != place]
        one = explained(readings, place, others)
        if one is not None and one.fault is not None and abs(one.size) >= MATTERS:
            found.append(_suspicion(readings, one, one.fault, others if len(others) == 1 else []))
        left.remove(place)
    return found


def _departure(readings: Readings, place: int, left: list[int]) -> float:
    """How far a sensor is from each of the others in the middle of the time, the nearest half of them looked at. [K]"""
    apart = [
        float(np.nanmean(np.abs(readings.values[:, place] - readings.values[:, other])))
        for other in left
        if other != place and not np.isnan(readings.values[:, place] - readings.values[:, other]).all()
    ]
    return sorted(apart)[len(apart) // 2] if apart else 0.0


def _suspicion(readings: Readings, one: Explained, fault: Kind, either: list[int]) -> Suspicion:
    """A suspicion with its evidence; with a single other sensor nobody can say which of the two it is."""
    log, names = readings.log, [readings.name(place) for place in (one.place, *either)]
    said = f"{names[0]} departs from the {'other' if either else 'middle of the others'} by up to "
    said += f"{fahrenheit_steps(one.greatest):+.1f} degF; {fahrenheit_steps(one.size):+.1f} degF of it {one.words}. "
    said += f"Causes that are no sensor's fault have a share of {one.no_fault:.2f}."
    if either:
        said += f" There are two sensors only: it may be {names[1]} as well."
    first = 0 if one.sample is None else one.sample
    place = where(log, Stretch(readings.columns[one.place], first, len(log.seconds) - 1))
    return Suspicion(fault, tuple(names), one.shares[fault], said, (place,), one.size)


def sensors_can_be_trusted(mould: Mould, _: CureLimits) -> Finding:
    """Noise, offset, drift, step, wrong type and swapped channels suspected from the log; never more than a referral.

    Sensors that were open or stuck are judged by the rule on mould sensors.
    """
    judged = tuple(one for one in suspect_sensors(mould) if one.kind not in ("open", "stuck"))
    said = " ".join(
        f"{', '.join(one.channels)}: {one.kind} suspected (likelihood {one.likelihood:.2f}). {one.evidence}"
        for one in judged
    )
    return ruled(
        FAULTS,
        Outcome.REFER if judged else Outcome.PASS,
        said or "No mould sensor departs from the others in a way that a sensor fault explains best.",
        proof="cure",
        limit=f"no suspicion of a likelihood of {TOLD:g} or more",
        limit_source=LIKELIHOOD,
        where=tuple(place for one in judged for place in one.where),
        next_step="Check the sensor, its type and its terminals before the next run; a suspicion proves nothing.",
        would_change="a check of the sensor beside a reference, at room and at cure temperature",
    )
