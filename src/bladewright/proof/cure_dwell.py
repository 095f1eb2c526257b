"""Dwell and spread of the mould. A sensor that died leaves the dwell proven until then and not further."""

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.figures import Figure, Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.dwell import Dwell, band, possible_dwell, proven_dwell, whole_stay
from bladewright.proof.mould import Mould
from bladewright.proof.wording import fahrenheit, fahrenheit_steps, figure, minutes, no_limit, ruled, spoken

DWELL, LONGEST, SPREAD = "cure: dwell", "cure: greatest dwell", "cure: spread"


def dwell_long_enough(mould: Mould, limits: CureLimits) -> Finding:
    """Slowest mould sensor in to first out, against the least dwell.

    A sensor that died leaves the dwell proven until then; if the others alone would have made it, a person decides.
    """
    proven, possible = proven_dwell(mould, limits), possible_dwell(mould, limits)
    seconds, at_best = proven.seconds if proven else 0.0, possible.seconds if possible else 0.0
    sure = seconds
    if limits.sensor_uncertainty is not None:
        narrow = proven_dwell(mould, limits, limits.sensor_uncertainty)
        sure = narrow.seconds if narrow else 0.0
    outcome = held_to(seconds, least=limits.dwell_least, uncertainty=seconds - sure)
    least = f"{minutes(limits.dwell_least):.4g} min"
    said = f"All {len(mould.columns)} mould sensors were in the band together for {minutes(seconds):.1f} min; "
    said += f"at least {least} are asked."
    next_step = "A person with design authority decides, with the neighbouring zones and the heaters of those minutes."
    would_change = "sensors of less uncertainty"
    if outcome is Outcome.REFER:
        said += f" By the sensors' uncertainty it may have been only {minutes(sure):.1f} min."
    elif outcome is Outcome.FAIL and held_to(at_best, least=limits.dwell_least) is not Outcome.FAIL:
        outcome = Outcome.REFER
        said += _lost(mould, proven, possible)
        would_change = "a calibrated second sensor in that zone that read all the while"
    elif outcome is Outcome.FAIL:
        next_step = "Reject the cure. A second dwell is a new process and needs its own proof, not this log."
        would_change = "a record of this run that shows a longer dwell"
    low, high = band(limits, 0.0)
    return ruled(
        DWELL,
        outcome,
        said,
        proof="cure",
        worst=figure(
            "dwell",
            minutes(seconds),
            "min",
            None if limits.sensor_uncertainty is None else minutes(seconds - sure),
            method="longest run of samples with every mould sensor in the band; "
            f"{minutes(proven.crossed if proven else 0.0):.1f} min by straight lines between samples",
            source=mould.log.source.file,
            limits_source=limits.source,
        ),
        limit=f"at least {least} in {fahrenheit(low):.1f} to {fahrenheit(high):.1f} degF",
        limit_source=limits.source,
        where=(_where(mould, proven),),
        next_step=next_step,
        would_change=would_change,
    )


def _lost(mould: Mould, proven: Dwell | None, possible: Dwell | None) -> str:
    """Until when the dwell is proven, whose silence ended it, and how long the others held the band."""
    if possible is None:
        return ""
    names = {
        mould.log.channels[stretch.column].name
        for stretch in (*mould.silent, *mould.frozen)
        if stretch.first <= possible.last and stretch.last >= possible.first
    }
    until = f", until {spoken(mould.log.time_of(proven.last))}," if proven else ""
    return (
        f" It is proven for that long{until} and no longer: {', '.join(sorted(names))} could not be believed. "
        f"The other sensors held the band for {minutes(possible.seconds):.1f} min."
    )


def dwell_not_too_long(mould: Mould, limits: CureLimits) -> Finding:
    """First sample in the band to the last, breaks and holes included, against the greatest dwell."""
    greatest = limits.dwell_greatest
    if greatest is None:
        return no_limit(LONGEST, "cure", "limits.cure.dwell_greatest")
    stay = whole_stay(mould, limits)
    spread = limits.sensor_uncertainty
    longest = stay if spread is None else whole_stay(mould, limits, spread)
    return ruled(
        LONGEST,
        held_to(stay, greatest=greatest, uncertainty=longest - stay),
        f"From the first sample in the band to the last it was {minutes(stay):.1f} min; "
        f"{minutes(greatest):.4g} min are allowed.",
        proof="cure",
        worst=figure(
            "time from first to last in the band",
            minutes(stay),
            "min",
            None if spread is None else minutes(longest - stay),
            method="breaks and holes counted as in the band",
            source=mould.log.source.file,
            limits_source=limits.source,
        ),
        limit=f"at most {minutes(greatest):.4g} min",
        limit_source=limits.source,
        where=(Where(mould.log.source.file),),
        next_step="A person with design authority decides what the film and the alloy's temper bear.",
        would_change="a proof by test that the film bears it",
    )


def _where(mould: Mould, dwell: Dwell | None) -> Where:
    """The dwell, and the mould sensor that was coldest just before all were in."""
    log = mould.log
    if dwell is None:
        return Where(log.source.file)
    before = mould.believed(np.array([max(dwell.first - 1, 0)]))[0]
    late = "" if np.isnan(before).all() else log.channels[mould.columns[int(np.nanargmin(before))]].name
    return Where(log.source.file, late, int(log.rows[dwell.first]), log.time_of(dwell.first), log.time_of(dwell.last))


def spread_within_limit(mould: Mould, limits: CureLimits) -> Finding:
    """Hottest less coldest mould sensor at one sample, over the dwell."""
    dwell = possible_dwell(mould, limits)
    limit = f"at most {fahrenheit_steps(limits.spread_greatest):.4g} degF during the dwell"
    source = limits.source or ""
    if dwell is None:
        return ruled(
            rule=SPREAD, outcome=Outcome.MISSING, sentence="There was no dwell, so no spread over it.", proof="cure",
            limit=limit, limit_source=source, where=(Where(mould.log.source.file),),
            next_step="See the dwell.", would_change="a log with a dwell",
        )  # fmt: skip
    apart = mould.hottest[dwell.first : dwell.last + 1] - mould.coldest[dwell.first : dwell.last + 1]
    at = dwell.first + int(np.argmax(apart))
    value = float(apart[at - dwell.first])
    # two sensors, each with its own calibration error
    spread = None if limits.sensor_uncertainty is None else float(np.sqrt(2.0)) * limits.sensor_uncertainty
    outcome = held_to(value, greatest=limits.spread_greatest, uncertainty=spread)
    doubted = bool(mould.doubted[dwell.first : dwell.last + 1].any())
    if doubted and outcome is Outcome.PASS:
        outcome = Outcome.REFER
    row = mould.believed(np.array([at]))[0]
    names = [mould.log.channels[mould.columns[int(place)]].name for place in (np.nanargmax(row), np.nanargmin(row))]
    return ruled(
        rule=SPREAD,
        outcome=outcome,
        sentence=f"{names[0]} and {names[1]} were {fahrenheit_steps(value):.1f} degF apart at most during the dwell; "
        f"{fahrenheit_steps(limits.spread_greatest):.4g} degF are allowed."
        + (" Not every sensor could be believed throughout." if doubted else ""),
        proof="cure",
        worst=Figure(
            "spread",
            fahrenheit_steps(value),
            "degF",
            None if spread is None else fahrenheit_steps(spread),
            method="hottest less coldest mould sensor at one sample of the dwell",
            source=mould.log.source.file,
            validated=bool(limits.source),
        ),
        limit=limit,
        limit_source=source,
        where=(Where(mould.log.source.file, ", ".join(names), int(mould.log.rows[at]), mould.log.time_of(at)),),
        next_step="Survey the oven's zones; a person decides on this blade.",
    )
