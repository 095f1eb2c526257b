"""Ramp, overshoot and cool-down, judged on the mould's own sensors."""

import math

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.dwell import band
from bladewright.proof.mould import Mould
from bladewright.proof.rates import Rate, fastest, slowest_rise
from bladewright.proof.wording import (
    fahrenheit,
    fahrenheit_per_minute,
    fahrenheit_steps,
    figure,
    minutes,
    no_limit,
    ruled,
)

RAMP, LEAST_RAMP, OVERSHOOT, COOLING = "cure: ramp", "cure: least ramp", "cure: overshoot", "cure: cool-down"


def ramp_within_limit(mould: Mould, limits: CureLimits) -> Finding:
    """Fastest rise of any mould sensor over the stated window."""
    rate = fastest(mould, limits.ramp_window)
    return _rate_finding(mould, limits, RAMP, rate, "rise", greatest=limits.ramp_greatest)


def ramp_not_too_slow(mould: Mould, limits: CureLimits) -> Finding:
    """Slowest rise of any mould sensor between the temperature the limit names and the band."""
    if limits.ramp_least is None:
        return no_limit(LEAST_RAMP, "cure", "limits.cure.ramp_least")
    if limits.ramp_from is None:
        return no_limit(LEAST_RAMP, "cure", "limits.cure.ramp_from")
    rate = slowest_rise(mould, limits.ramp_window, limits.ramp_from, band(limits, 0.0)[0])
    return _rate_finding(mould, limits, LEAST_RAMP, rate, "rise", least=limits.ramp_least)


def cooling_within_limit(mould: Mould, limits: CureLimits) -> Finding:
    """Fastest fall of any mould sensor over the stated window."""
    if limits.cool_greatest is None:
        return no_limit(COOLING, "cure", "limits.cure.cool_greatest")
    rate = fastest(mould, limits.ramp_window, falling=True)
    return _rate_finding(mould, limits, COOLING, rate, "fall", greatest=limits.cool_greatest)


def _rate_finding(
    mould: Mould,
    limits: CureLimits,
    rule: str,
    rate: Rate | None,
    way: str,
    *,
    least: float | None = None,
    greatest: float | None = None,
) -> Finding:
    log = mould.log
    asked = fahrenheit_per_minute(least if least is not None else greatest or 0.0)
    window = f"{minutes(limits.ramp_window):.4g} min"
    words = "at least" if least is not None else "at most"
    limit = f"{words} {asked:.4g} degF/min over {window}"
    if rate is None:
        return ruled(
            rule=rule, outcome=Outcome.REFER, sentence=f"The log does not show a {way} over {window}.", proof="cure",
            limit=limit, limit_source=limits.source, where=(Where(log.source.file),),
            next_step="Find the rest of the log.", would_change="a log that begins before heat and ends cold",
        )  # fmt: skip
    value = -rate.per_second if way == "fall" else rate.per_second
    # one sensor's calibration error is much the same at both ends; the worse case is taken, that it is not
    span = float(log.seconds[rate.later] - log.seconds[rate.earlier])
    spread = None if limits.sensor_uncertainty is None else math.sqrt(2.0) * limits.sensor_uncertainty / span
    outcome = held_to(value, least=least, greatest=greatest, uncertainty=spread)
    name = log.channels[rate.column].name
    shown = fahrenheit_per_minute(value)
    superlative = "slowest" if least is not None else "fastest"
    return ruled(
        rule=rule,
        outcome=outcome,
        sentence=f"The {superlative} {way} is {shown:.2f} degF/min, of {name} over {minutes(span):.4g} min; "
        f"{words} {asked:.4g} degF/min {'is asked' if least is not None else 'is allowed'}.",
        proof="cure",
        worst=figure(
            f"{superlative} {way}",
            shown,
            "degF/min",
            None if spread is None else fahrenheit_per_minute(spread),
            method=f"change over {window} or the least longer step",
            source=log.source.file,
            limits_source=limits.source,
        ),
        limit=limit,
        limit_source=limits.source,
        where=(
            Where(
                log.source.file,
                name,
                int(log.rows[rate.earlier]),
                log.time_of(rate.earlier),
                log.time_of(rate.later),
            ),
        ),
        next_step=_NEXT[rule],
        would_change="a smaller sensor uncertainty, if the value lies inside",
    )


_NEXT = {
    RAMP: "A person with design authority decides: a fast rise leaves the film less time to flow.",
    LEAST_RAMP: "A person with design authority decides: film warmed slowly may gel before it wets.",
    COOLING: "A person with design authority decides: fast cooling strains the bond.",
}


def never_above(mould: Mould, limits: CureLimits) -> Finding:
    """Hottest reading of any mould sensor in the whole log."""
    greatest = limits.overshoot_greatest
    if greatest is None:
        return no_limit(OVERSHOOT, "cure", "limits.cure.overshoot_greatest")
    log = mould.log
    limit = f"never above {fahrenheit(greatest):.5g} degF"
    if np.isnan(mould.hottest).all():
        return ruled(
            rule=OVERSHOOT, outcome=Outcome.MISSING, proof="cure", sentence="No mould sensor could be believed.",
            limit=limit, limit_source=limits.source, where=(Where(log.source.file),),
            next_step="Find another record of that run.", would_change="a log with readings",
        )  # fmt: skip
    at = int(np.nanargmax(mould.hottest))
    value, spread = float(mould.hottest[at]), limits.sensor_uncertainty
    place = mould.columns[int(np.nanargmax(mould.believed(np.array([at]))[0]))]
    outcome = held_to(value, greatest=greatest, uncertainty=spread)
    name = log.channels[place].name
    return ruled(
        rule=OVERSHOOT,
        outcome=outcome,
        sentence=f"The hottest mould sensor, {name}, reached {fahrenheit(value):.1f} degF; "
        f"{fahrenheit(greatest):.5g} degF is never to be passed.",
        proof="cure",
        worst=figure(
            "hottest mould sensor",
            fahrenheit(value),
            "degF",
            None if spread is None else fahrenheit_steps(spread),
            method="greatest single reading",
            source=log.source.file,
            limits_source=limits.source,
        ),
        limit=limit,
        limit_source=limits.source,
        where=(Where(log.source.file, name, int(log.rows[at]), log.time_of(at)),),
        next_step="A person decides what the film and the alloy's temper bear.",
    )
