"""Dwell and spread of the mould. A sensor that died leaves the dwell proven until then and not further."""

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.figures import Figure, Finding, Outcome, Where
from bladewright.proof.comparing import held_to, worst
from bladewright.proof.dwell import Dwell, band, possible_dwell, proven_dwell, whole_stay
from bladewright.proof.mould import Mould
from bladewright.proof.wording import fahrenheit, fahrenheit_steps, figure, minutes

DWELL, SPREAD = "cure: dwell", "cure: spread"
NOBODY_KNOWS = "a calibrated second sensor in that zone that read through the gap, or a proof by test of the bond"


def dwell_within_limits(mould: Mould, limits: CureLimits) -> Finding:
    """Slowest mould sensor in to first out, against the least and the greatest dwell."""
    proven, possible = proven_dwell(mould, limits), possible_dwell(mould, limits)
    seconds = proven.seconds if proven else 0.0
    spread = limits.sensor_uncertainty
    sure, stay = seconds, whole_stay(mould, limits)
    longest = stay
    if spread is not None:
        narrow = proven_dwell(mould, limits, spread)
        sure, longest = narrow.seconds if narrow else 0.0, whole_stay(mould, limits, spread)
    outcome = held_to(seconds, least=limits.dwell_least, uncertainty=seconds - sure)
    at_best = possible.seconds if possible else 0.0
    short = outcome is Outcome.FAIL
    if short and held_to(at_best, least=limits.dwell_least) is not Outcome.FAIL:
        outcome = Outcome.REFER
    too_long = Outcome.PASS
    if limits.dwell_greatest is not None:
        too_long = held_to(stay, greatest=limits.dwell_greatest, uncertainty=longest - stay)
    return Finding(
        rule=DWELL,
        outcome=worst(outcome, too_long),
        sentence=_sentence(mould, limits, proven, at_best, outcome, too_long, stay),
        proof="cure",
        worst=figure(
            "dwell",
            minutes(seconds),
            "min",
            None if spread is None else minutes(max(seconds - sure, longest - stay)),
            method=f"longest run of samples with every mould sensor in the band; {_by_lines(proven)}",
            source=mould.log.source.file,
            limits_source=limits.source,
        ),
        limit=_limit(limits),
        limit_source=limits.source or "",
        where=_where(mould, proven),
        next_step="" if worst(outcome, too_long) is Outcome.PASS else _next_step(outcome, too_long),
        would_change=NOBODY_KNOWS if short and outcome is Outcome.REFER else "",
    )


def _by_lines(dwell: Dwell | None) -> str:
    return f"{minutes(dwell.crossed if dwell else 0.0):.1f} min by straight lines between samples"


def _limit(limits: CureLimits) -> str:
    low, high = band(limits, 0.0)
    least = f"{minutes(limits.dwell_least):.4g}"
    asked = f"{least} to {minutes(limits.dwell_greatest):.4g} min" if limits.dwell_greatest else f"at least {least} min"
    return f"{asked} in {fahrenheit(low):.1f} to {fahrenheit(high):.1f} degF"


def _where(mould: Mould, dwell: Dwell | None) -> tuple[Where, ...]:
    log = mould.log
    if dwell is None:
        return (Where(log.source.file),)
    return (
        Where(
            log.source.file,
            _late(mould, dwell),
            int(log.rows[dwell.first]),
            log.time_of(dwell.first),
            log.time_of(dwell.last),
        ),
    )


def _late(mould: Mould, dwell: Dwell) -> str:
    """The mould sensor that was coldest just before all were in."""
    before = mould.believed(np.array([max(dwell.first - 1, 0)]))[0]
    if np.isnan(before).all():
        return ""
    return mould.log.channels[mould.columns[int(np.nanargmin(before))]].name


def _sentence(
    mould: Mould,
    limits: CureLimits,
    proven: Dwell | None,
    at_best: float,
    short: Outcome,
    too_long: Outcome,
    stay: float,
) -> str:
    least = f"{minutes(limits.dwell_least):.4g} min"
    length = f"{minutes(proven.seconds if proven else 0.0):.1f} min"
    said = [
        f"All {len(mould.columns)} mould sensors were in the band together for {length}; at least {least} are asked."
    ]
    if short is Outcome.REFER and at_best > (proven.seconds if proven else 0.0):
        said.append(
            f"A sensor gave nothing to believe, so the dwell is proven for {length} only; the sensors that were left "
            f"held it for {minutes(at_best):.1f} min."
        )
    elif short is Outcome.REFER:
        said.append("The sensors' uncertainty is larger than what is left to the limit.")
    if too_long is not Outcome.PASS:
        word = "is over" if too_long is Outcome.FAIL else "may be over"
        said.append(f"From first in to last out it was {minutes(stay):.1f} min, which {word} the greatest dwell.")
    return " ".join(said)


def _next_step(short: Outcome, too_long: Outcome) -> str:
    if short is Outcome.FAIL:
        return "Reject the cure. A second dwell is a new process: it needs its own proof, not this log."
    if too_long is Outcome.FAIL:
        return "Reject the cure: the film was held hot for longer than its process allows."
    return "A person with design authority decides, with the neighbouring zones and the heater of the same minutes."


def spread_within_limit(mould: Mould, limits: CureLimits) -> Finding:
    """Hottest less coldest mould sensor at one sample, over the dwell."""
    dwell = possible_dwell(mould, limits)
    limit = f"at most {fahrenheit_steps(limits.spread_greatest):.4g} degF during the dwell"
    source = limits.source or ""
    if dwell is None:
        return Finding(
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
    return Finding(
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
        next_step="" if outcome is Outcome.PASS else "Survey the oven's zones; a person decides on this blade.",
    )
