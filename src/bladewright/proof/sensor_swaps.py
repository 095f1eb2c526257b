"""Channels that answer to each other's names: a mould sensor and its heater, or two mould sensors of two zones."""

import itertools

import numpy as np
from numpy.typing import NDArray

from bladewright.engine.statistics.explanations import log_evidence, shares_of
from bladewright.evidence.records import Floats
from bladewright.proof.mould import Mould, heaters_of
from bladewright.proof.sensor_explained import FEWEST, MISFIT, UNSURE
from bladewright.proof.sensor_readings import Readings, middle_of, spread_out
from bladewright.proof.sensor_suspicion import Suspicion
from bladewright.proof.sensors import Stretch, where
from bladewright.proof.wording import fahrenheit_steps

#: a heater runs ahead of its mould by more than this while both warm [K]; everything here is our own choice
AHEAD = 1.0
#: a mould that warms slower than this is not rising [K/s]: half a degree Celsius a minute
RISING = 0.5 / 60.0
#: what a zone's mould may follow of its heater's departure from the other heaters (standard deviation) [1]
FOLLOWS = 1.0
#: a pair's chance to have been swapped before anything is read
BEFORE = 0.02
#: heaters that differ by less than this tell nothing of which zone is which [K]
TELLS = 3.0


def swapped(mould: Mould) -> list[Suspicion]:
    """Mould and heater of a zone, then mould sensors of two zones; nothing where there are no heaters to tell by."""
    readings = spread_out(mould)
    if len(readings.samples) < FEWEST:
        return []
    with_heater = _with_their_heater(mould, readings)
    found = [one for one in _for_a_heater(readings, with_heater) if one]
    taken = {name for one in found for name in one.channels}
    pairs = [
        one
        for one in (_for_each_other(readings, with_heater, pair) for pair in itertools.combinations(with_heater, 2))
        if one and not taken & set(one.channels)
    ]
    pairs.sort(key=lambda one: -one.likelihood)
    for one in pairs:  # a sensor sits in one place, so it is swapped with one other at most
        if not taken & set(one.channels):
            found.append(one)
            taken |= set(one.channels)
    return found


def _with_their_heater(mould: Mould, readings: Readings) -> dict[int, int]:
    """Place of each mould sensor -> column of the one heater of its zone."""
    found = {}
    for place, column in enumerate(readings.columns):
        heaters = heaters_of(mould, column)
        if len(heaters) == 1:
            found[place] = heaters[0]
    return found


def _for_a_heater(readings: Readings, with_heater: dict[int, int]) -> list[Suspicion]:
    """A heater that follows its mould in the rise, while in the other zones heaters lead."""
    if len(with_heater) < 3:
        return []
    places = list(with_heater)
    leads, mistaken = {}, set()
    of_moulds = middle_of(readings.values[:, places])
    of_heaters = middle_of(readings.log.values[readings.samples][:, list(with_heater.values())])
    for place, heater in with_heater.items():
        mould, heat = readings.values[:, place], readings.log.values[readings.samples, heater]
        rising = np.gradient(mould, readings.seconds) > RISING
        ahead = (heat - mould)[rising & ~np.isnan(heat - mould)]
        if len(ahead) >= 3:
            leads[place] = ahead
            if _nearer(mould, of_heaters, of_moulds, rising) and _nearer(heat, of_moulds, of_heaters, rising):
                mistaken.add(place)
    usual = [float(np.median(ahead)) for ahead in leads.values()]
    if not usual or np.median(usual) < AHEAD:
        return []
    found = []
    for place, ahead in leads.items():
        if np.median(ahead) > -AHEAD or place not in mistaken:
            continue
        names = (readings.name(place), readings.log.channels[with_heater[place]].name)
        said = f"While the mould rose, {names[1]} ran {fahrenheit_steps(-float(np.median(ahead))):.1f} degF behind "
        said += f"{names[0]}; in the other zones the heater leads, and each reads as the others' other does."
        at = where(readings.log, Stretch(readings.columns[place], 0, len(readings.log.seconds) - 1))
        found.append(Suspicion("swapped channels", names, (1.0 - UNSURE) * float(np.mean(ahead < 0.0)), said, (at,)))
    return found


def _nearer(one: Floats, near: Floats, far: Floats, rising: NDArray[np.bool_]) -> bool:
    """Whether readings are nearer to the first than to the second while the mould rises."""
    return bool(np.nanmedian(np.abs(one - near)[rising]) < np.nanmedian(np.abs(one - far)[rising]))


def _for_each_other(readings: Readings, with_heater: dict[int, int], pair: tuple[int, int]) -> Suspicion | None:
    """Whether two mould sensors follow each other's heaters better than their own."""
    heat = readings.log.values[readings.samples][:, list(with_heater.values())]
    heaters = heat - middle_of(heat)[:, None]
    own = {place: heaters[:, at] for at, place in enumerate(with_heater)}
    mould = middle_of(readings.values[:, list(with_heater)])
    first, second = (readings.values[:, place] - mould for place in pair)
    there = ~np.isnan(first + second + own[pair[0]] + own[pair[1]])
    if np.count_nonzero(there) < 3 or np.abs(own[pair[0]] - own[pair[1]])[there].max() < TELLS:
        return None
    departs = np.concatenate((first[there], second[there]))
    as_named = np.concatenate((own[pair[0]][there], own[pair[1]][there]))
    as_swapped = np.concatenate((own[pair[1]][there], own[pair[0]][there]))
    shapes: Floats = np.stack((as_named, as_swapped, np.zeros_like(as_named)))[:, :, None]
    evidence = log_evidence(departs, shapes, np.array([FOLLOWS]), MISFIT)
    # a swap is one cause; that they follow their own heaters or none at all is the other
    share = (1.0 - UNSURE) * float(
        shares_of(evidence, np.array([(1.0 - BEFORE) / 2.0, BEFORE, (1.0 - BEFORE) / 2.0]))[1]
    )
    if float(as_swapped @ departs) <= 0.0:  # following backwards is no following
        return None
    names = (readings.name(pair[0]), readings.name(pair[1]))
    places = tuple(
        where(readings.log, Stretch(readings.columns[place], 0, len(readings.log.seconds) - 1)) for place in pair
    )
    said = (
        f"{names[0]} departs from the others as the heater of {names[1]} does from the other heaters, and the reverse."
    )
    return Suspicion("swapped channels", names, share, said, places)
