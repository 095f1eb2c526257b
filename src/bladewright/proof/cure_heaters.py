"""Heaters are judged for over-temperature and for how far they run ahead of the mould; never for the dwell."""

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import Floats
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.mould import Mould, heaters_of
from bladewright.proof.sensors import frozen_stretches, silent_stretches, where
from bladewright.proof.wording import fahrenheit, fahrenheit_steps, figure, no_limit, ruled

HEATERS, LAG = "cure: heaters", "cure: heater lag"
SHOWN = 6  # places a finding names


def heaters_not_too_hot(mould: Mould, limits: CureLimits) -> Finding:
    """Hottest reading of any heater; a heater nobody could read is referred."""
    greatest = limits.heater_greatest
    if greatest is None:
        return no_limit(HEATERS, "cure", "limits.cure.heater_greatest")
    log = mould.log
    columns = log.with_role("heater")
    limit = f"at most {fahrenheit(greatest):.5g} degF"
    tops = [float(np.fmax.reduce(log.values[:, column])) for column in columns]
    if not tops or not np.isfinite(tops).any():
        return _no_heater(HEATERS, log.source.file, limit, limits)
    place = int(np.nanargmax(tops))
    value, column = tops[place], columns[place]
    at = int(np.nanargmax(log.values[:, column]))
    spread = limits.sensor_uncertainty  # a heater's sensor is taken to be known no better than a mould's
    outcome = held_to(value, greatest=greatest, uncertainty=spread)
    unread = np.flatnonzero(np.isnan(log.values[:, columns]).any(axis=1))
    doubted = (
        *silent_stretches(log, columns, unread),
        *frozen_stretches(log, columns, limits.frozen_samples, limits.frozen_movement),
    )
    name = log.channels[column].name
    said = f"The hottest heater, {name}, reached {fahrenheit(value):.1f} degF; "
    said += f"{fahrenheit(greatest):.5g} degF are allowed."
    if doubted:
        quiet = sorted({log.channels[stretch.column].name for stretch in doubted})
        said += f" {', '.join(quiet)} gave no reading, or one repeated while others moved."
        outcome = Outcome.REFER if outcome is Outcome.PASS else outcome
    return ruled(
        rule=HEATERS,
        outcome=outcome,
        sentence=said,
        proof="cure",
        worst=figure(
            "hottest heater",
            fahrenheit(value),
            "degF",
            None if spread is None else fahrenheit_steps(spread),
            method="greatest single reading",
            source=log.source.file,
            limits_source=limits.source,
        ),
        limit=limit,
        limit_source=limits.source,
        where=(
            Where(log.source.file, name, int(log.rows[at]), log.time_of(at)),
            *(where(log, stretch) for stretch in doubted[:SHOWN]),
        ),
        next_step="A person decides: see the mould sensor beside that heater.",
        would_change="a mould sensor beside that heater that stayed inside",
    )


def heater_lag_within_limit(mould: Mould, limits: CureLimits) -> Finding:
    """Heater less the mould sensor of its zone: a heater far ahead has lost touch with the mould."""
    greatest = limits.heater_lag_greatest
    if greatest is None:
        return no_limit(LAG, "cure", "limits.cure.heater_lag_greatest")
    log = mould.log
    limit = f"at most {fahrenheit_steps(greatest):.4g} degF ahead of its mould sensor"
    both = [(heater, sensor) for sensor in mould.columns for heater in heaters_of(mould, sensor)]
    tops = [float(np.fmax.reduce(_ahead(mould, pair))) for pair in both]
    if not tops or not np.isfinite(tops).any():
        return _no_heater(LAG, log.source.file, limit, limits)
    place = int(np.nanargmax(tops))
    heater, sensor = both[place]
    value, at = tops[place], int(np.nanargmax(_ahead(mould, both[place])))
    compared = {pair[0] for pair in both}
    alone = [log.channels[heater].name for heater in log.with_role("heater") if heater not in compared]
    # two sensors, each with its own calibration error
    spread = None if limits.sensor_uncertainty is None else float(np.sqrt(2.0)) * limits.sensor_uncertainty
    outcome = held_to(value, greatest=greatest, uncertainty=spread)
    names = f"{log.channels[heater].name} ran {fahrenheit_steps(value):.1f} degF ahead of {log.channels[sensor].name}"
    said = f"{names} at most; {fahrenheit_steps(greatest):.4g} degF are allowed."
    if alone:
        said += f" {', '.join(alone)} has no mould sensor of its zone to be compared with."
        outcome = Outcome.REFER if outcome is Outcome.PASS else outcome
    return ruled(
        rule=LAG,
        outcome=outcome,
        sentence=said,
        proof="cure",
        worst=figure(
            "heater ahead of its mould sensor",
            fahrenheit_steps(value),
            "degF",
            None if spread is None else fahrenheit_steps(spread),
            method="greatest difference at one sample",
            source=log.source.file,
            limits_source=limits.source,
        ),
        limit=limit,
        limit_source=limits.source,
        where=(Where(log.source.file, log.channels[heater].name, int(log.rows[at]), log.time_of(at)),),
        next_step="Look for a loose heater or sensor before the next run.",
    )


def _ahead(mould: Mould, pair: tuple[int, int]) -> Floats:
    heater, sensor = pair
    ahead: Floats = mould.log.values[:, heater] - mould.log.values[:, sensor]
    return ahead


def _no_heater(rule: str, file: str, limit: str, limits: CureLimits) -> Finding:
    return ruled(
        rule=rule,
        outcome=Outcome.MISSING,
        sentence="The log has no heater reading that could be judged.",
        proof="cure",
        limit=limit,
        limit_source=limits.source,
        where=(Where(file),),
        next_step="Log the heaters with their zone, or describe their columns.",
        would_change="a log with heater channels and their zones",
    )
