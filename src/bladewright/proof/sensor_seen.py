"""Sensor faults that are seen rather than weighed: open, stuck, noisy; and a step that every channel makes at once."""

import numpy as np
from scipy.special import ndtri

from bladewright.evidence.records import Floats
from bladewright.figures import counted
from bladewright.proof.mould import HOLE, Mould
from bladewright.proof.sensor_readings import OPEN_APART, apart
from bladewright.proof.sensor_suspicion import Kind, Suspicion
from bladewright.proof.sensors import Stretch, stretches_of, where
from bladewright.proof.wording import fahrenheit_steps

#: likelihoods of what is seen directly; our own choice, as is everything below that names no source
OPEN, STUCK = 0.99, 0.95
#: odds that a sensor noisier than the others by a ratio is at fault are the square of the ratio over this
NOISIER = 4.0
#: nothing below this scatter of a reading is called noise [K]; loggers show tenths
QUIET = 0.1
LEAST_NOISE = 0.3  # [K]
#: share of readings that may be wild before a sensor is called noisy
WILD = 0.10
#: one wild reading bends three lines, so more bends than these must be wild
_OF_ONE = 4
FEWEST_BENDS = 30  # in a shorter log the corners of the cure itself look like noise
_BLOCKS, _BLOCK = 8, 512  # stretches of neighbouring samples looked at, and how long each is
_MOST = 4000  # samples in which a reading at the end of the logger's range, and a common step, are looked for
#: a step every channel makes: this far at least [K], so many times the usual change of slope, by this share of channels
LEAST_STEP, STANDS_OUT, TOGETHER, ALIKE = 1.5, 8.0, 0.8, 0.5
_NAMED = 12  # stretches a suspicion names; the rest are counted
_SIDE = 4  # samples looked at on either side of a step


def seen(mould: Mould) -> list[Suspicion]:
    """Open, stuck and noisy mould sensors, and a step that all channels make together."""
    return [*_open(mould), *_stuck(mould), *_noisy(mould), *_common_step(mould)]


def _open(mould: Mould) -> list[Suspicion]:
    found = _one_a_channel(mould, mould.silent, "open", OPEN, "It gave no reading")
    if len(mould.columns) < 2:
        return found
    count = len(mould.log.seconds)
    samples = np.unique(np.linspace(0, count - 1, min(count, _MOST)).round().astype(np.int64))
    far = apart(mould.log.values[samples][:, mould.columns])
    at_the_end = tuple(
        Stretch(column, int(samples[first]), int(samples[last]))
        for place, column in enumerate(mould.columns)
        for first, last in stretches_of(far[:, place])
        if _jumped(mould.log.values[samples, column], int(first))
    )
    said = "It read further from all others than any mould can be, as a logger shows an open wire,"
    return found + _one_a_channel(mould, at_the_end, "open", OPEN, said)


def _jumped(readings: Floats, first: int) -> bool:
    """Whether a reading came to where it is from one sample looked at to the next, or was there from the start."""
    return first == 0 or not abs(float(readings[first] - readings[first - 1])) <= 0.5 * OPEN_APART


def _stuck(mould: Mould) -> list[Suspicion]:
    return _one_a_channel(mould, mould.frozen, "stuck", STUCK, "It repeated one reading while others moved")


def _one_a_channel(
    mould: Mould, stretches: tuple[Stretch, ...], kind: Kind, likelihood: float, said: str
) -> list[Suspicion]:
    """One suspicion for each sensor with such stretches, the first of them named."""
    log = mould.log
    found = []
    for column in dict.fromkeys(one.column for one in stretches):
        mine = [one for one in stretches if one.column == column]
        samples = sum(one.last - one.first + 1 for one in mine)
        evidence = f"{said} in {counted(samples, 'sample')}."
        places = tuple(where(log, one) for one in mine[:_NAMED])
        found.append(Suspicion(kind, (log.channels[column].name,), likelihood, evidence, places))
    return found


def _noisy(mould: Mould) -> list[Suspicion]:
    if len(mould.columns) < 2:
        return []
    scatter = _scatter(mould)
    found = []
    for place, column in enumerate(mould.columns):
        others = max(QUIET, float(np.nanmedian(np.delete(scatter, place))))
        ratio = scatter[place] / others
        if not (scatter[place] >= LEAST_NOISE and ratio > 1.0):
            continue
        odds = (ratio / NOISIER) ** 2
        said = f"From sample to sample it scatters by {fahrenheit_steps(scatter[place]):.2f} degF, "
        said += f"the others by {fahrenheit_steps(others):.2f} degF or less; a mould moves smoothly."
        at = where(mould.log, Stretch(column, 0, len(mould.log.seconds) - 1))
        name = mould.log.channels[column].name
        found.append(Suspicion("noisy", (name,), float(odds / (1.0 + odds)), said, (at,), float(scatter[place])))
    return found


def _scatter(mould: Mould) -> Floats:
    """Scatter of each mould sensor's reading about the straight line through its neighbours. (sensors,) [K]"""
    count = len(mould.log.seconds)
    starts = np.unique(np.linspace(0, max(0, count - _BLOCK), _BLOCKS).astype(np.int64))
    bends = []
    for start in starts:
        values = mould.believed(slice(int(start), min(count, int(start) + _BLOCK)))
        bends.append(np.abs(np.diff(values, n=2, axis=0)))
    every = np.concatenate(bends)
    if len(every) < FEWEST_BENDS:
        return np.zeros(len(mould.columns))
    dry = np.isnan(every).all(axis=0)
    every[:, dry] = 0.0
    wild = min(1.0, max(WILD, _OF_ONE / len(every)))
    # a second difference of white noise scatters by sqrt(6) of it (closed form)
    usual = np.sqrt(6.0) * float(ndtri(1.0 - 0.5 * wild)) if wild < 1.0 else np.inf
    found: Floats = np.nanquantile(every, 1.0 - wild, axis=0) / usual
    return found


def _common_step(mould: Mould) -> list[Suspicion]:
    """All temperatures moving by the same within one sample, and staying: terminals or logger, not the mould."""
    log = mould.log
    columns = [i for i, channel in enumerate(log.channels) if channel.role in ("mould", "heater")]
    stride = max(1, len(log.seconds) // _MOST)
    samples = np.arange(0, len(log.seconds), stride)
    if len(columns) < 3 or len(samples) < 2 * _SIDE + 2:
        return []
    moves = np.diff(log.values[samples][:, columns], axis=0)
    middle = np.nanmedian(np.where(np.isnan(moves).all(axis=1, keepdims=True), 0.0, moves), axis=1)
    times = np.diff(log.seconds[samples])
    found = []
    usual = _usual_bend(middle)
    for at in np.flatnonzero(np.abs(middle) >= LEAST_STEP):
        if at < _SIDE or at + _SIDE >= len(middle) or times[at] > HOLE * float(np.median(times)):
            continue
        around = np.delete(middle[at - _SIDE : at + _SIDE + 1], _SIDE)
        step = float(middle[at] - np.median(around))
        if abs(step) < max(LEAST_STEP, STANDS_OUT * usual, 2.0 * float(np.ptp(around))):
            continue
        back = float(np.sum(middle[at + 1 : at + 1 + _SIDE] - np.median(around)))
        with_it = np.abs(moves[at] - np.median(around) - step) <= ALIKE * abs(step)
        share = float(np.mean(with_it))
        if share >= TOGETHER and abs(step + back) >= ALIKE * abs(step):
            names = tuple(log.channels[column].name for column in mould.columns)
            said = f"{share:.0%} of all temperatures moved by {fahrenheit_steps(step):+.1f} degF within one sample and "
            said += "stayed there; heaters and mould cannot do that together, their terminals can."
            place = where(log, Stretch(mould.columns[0], int(samples[at]), int(samples[at + 1])))
            found.append(Suspicion("cold-junction step", names, share * STUCK, said, (place,), step))
    return found


def _usual_bend(middle: Floats) -> float:
    """How much the change from sample to sample itself changes, as a rule. [K]"""
    return float(np.median(np.abs(np.diff(middle)))) if len(middle) > 1 else 0.0
