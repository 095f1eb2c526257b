"""Pressure is on before heat and until release. Lost before gel it is a wetting fault: no second dwell mends that."""

import numpy as np

from bladewright.drawing.limits import CureLimits
from bladewright.evidence.records import Floats
from bladewright.figures import Finding, Outcome, Where
from bladewright.proof.comparing import held_to
from bladewright.proof.mould import Mould
from bladewright.proof.wording import fahrenheit, figure, no_limit, psi, ruled

SPAN, PRESSURE, GREATEST = "cure: beginning and end", "cure: pressure", "cure: greatest pressure"
WETTING = (
    "Pressure was not on while the film was still to flow and gel, so it may never have wetted the metal: a wetting "
    "fault, which neither a degree of cure nor a second dwell settles."
)


def log_covers_the_cure(mould: Mould, limits: CureLimits) -> Finding:
    """The log begins before heat and ends when the mould is cold enough to release."""
    gaps = [name for name in ("heat_begins", "release") if getattr(limits, name) is None]
    if limits.heat_begins is None or limits.release is None:
        return no_limit(SPAN, "cure", " and ".join(f"limits.cure.{name}" for name in gaps))
    log = mould.log
    said = []
    if not mould.hottest[0] <= limits.heat_begins:
        said.append("The log begins when heat was already on, or without a reading.")
    if not mould.hottest[-1] < limits.release:
        said.append("The log ends before the mould was cold enough to release, or without a reading.")
    first, last = (fahrenheit(float(mould.hottest[at])) for at in (0, -1))
    return ruled(
        rule=SPAN,
        outcome=Outcome.REFER if said else Outcome.PASS,
        sentence=" ".join(said)
        or f"The hottest sensor was {first:.0f} degF at the start and {last:.0f} degF at the end.",
        proof="cure",
        limit=f"begins at or below {fahrenheit(limits.heat_begins):.4g} degF, ends below "
        f"{fahrenheit(limits.release):.4g} degF",
        limit_source=limits.source,
        where=(Where(log.source.file, "", int(log.rows[0]), log.time_of(0), log.time_of(len(log.seconds) - 1)),),
        next_step="Find the rest of the log.",
        would_change="the rest of the log",
    )


def pressure_stayed_on(mould: Mould, limits: CureLimits) -> Finding:
    """Least pressure of any channel from the first heat to the last sample above release."""
    needed = ("pressure_least", "heat_begins", "release")
    gaps = [f"limits.cure.{name}" for name in needed if getattr(limits, name) is None]
    if limits.pressure_least is None or limits.heat_begins is None or limits.release is None:
        return no_limit(PRESSURE, "cure", " and ".join(gaps))
    log = mould.log
    columns = log.with_role("pressure")
    limit = f"at least {psi(limits.pressure_least):.4g} psi gauge from heat to release"
    rows = _under_heat(mould, limits.heat_begins, limits.release) if columns else np.arange(0)
    if not len(rows):
        return _not_logged(PRESSURE, mould, limits, limit, bool(columns))
    readings = log.values[rows][:, columns]
    lowest = np.fmin.reduce(readings, axis=1)
    if np.isnan(lowest).all():
        return _not_logged(PRESSURE, mould, limits, limit, False)
    at = int(np.nanargmin(lowest))
    value = float(lowest[at])
    outcome = held_to(value, least=limits.pressure_least)
    said = f"The pressure was never below {psi(value):.1f} psi from heat to release"
    said += f"; {psi(limits.pressure_least):.4g} psi are asked."
    where_to = (at, at)
    if outcome is Outcome.FAIL:
        low = np.flatnonzero(_below(lowest, limits.pressure_least))
        where_to = (int(low[0]), int(low[-1]))
        said = (
            f"The pressure fell to {psi(value):.1f} psi between heat and release; "
            f"{psi(limits.pressure_least):.4g} psi are asked. {_when(mould, limits, int(rows[low[0]]))}"
        )
    unread = bool(np.isnan(readings).any())
    if unread and outcome is Outcome.PASS:
        outcome = Outcome.REFER
    if unread:
        said += " Not every pressure reading is there."
    first, last = (int(rows[place]) for place in where_to)
    return ruled(
        rule=PRESSURE,
        outcome=outcome,
        sentence=said,
        proof="cure",
        worst=figure(
            "least pressure",
            psi(value),
            "psi",
            None,
            method="least single reading from the first heat to the last sample above release",
            source=log.source.file,
            limits_source=limits.source,
        ),
        limit=limit,
        limit_source=limits.source,
        where=(
            Where(
                log.source.file,
                ", ".join(log.channels[column].name for column in columns),
                int(log.rows[first]),
                log.time_of(first),
                log.time_of(last) if last > first else "",
            ),
        ),
        next_step="Hold the blade and tear both coupons; a person decides.",
        would_change="a second pressure record of that run",
    )


def pressure_not_too_high(mould: Mould, limits: CureLimits) -> Finding:
    """Greatest pressure of any channel in the whole log."""
    if limits.pressure_greatest is None:
        return no_limit(GREATEST, "cure", "limits.cure.pressure_greatest")
    log = mould.log
    columns = log.with_role("pressure")
    limit = f"at most {psi(limits.pressure_greatest):.4g} psi gauge"
    readings = log.values[:, columns]
    if not columns or np.isnan(readings).all():
        return _not_logged(GREATEST, mould, limits, limit, False)
    row, place = np.unravel_index(int(np.nanargmax(readings)), readings.shape)
    value = float(readings[row, place])
    outcome = held_to(value, greatest=limits.pressure_greatest)
    return ruled(
        rule=GREATEST,
        outcome=outcome,
        sentence=f"The pressure was never above {psi(value):.1f} psi; "
        f"{psi(limits.pressure_greatest):.4g} psi are allowed.",
        proof="cure",
        worst=figure(
            "greatest pressure",
            psi(value),
            "psi",
            None,
            method="greatest single reading",
            source=log.source.file,
            limits_source=limits.source,
        ),
        limit=limit,
        limit_source=limits.source,
        where=(
            Where(log.source.file, log.channels[columns[int(place)]].name, int(log.rows[row]), log.time_of(int(row))),
        ),
        next_step="Look for crushed skins and a squeezed-out bondline.",
    )


def _under_heat(mould: Mould, heat_begins: float, release: float) -> np.ndarray:
    """Samples from the first with a mould sensor above the one temperature to the last above the other [K]."""
    heated, hot = mould.hottest > heat_begins, mould.hottest >= release
    if not heated.any() or not hot.any():
        return np.arange(0)
    return np.arange(int(heated.argmax()), len(hot) - int(hot[::-1].argmax()))


def _below(readings: Floats, least: float) -> np.ndarray:
    """Which readings are below the least one allowed, a reading on it not counted."""
    return readings < least - 1e-9 * abs(least)


def _when(mould: Mould, limits: CureLimits, lost: int) -> str:
    """What losing pressure at a sample means; not knowing the gel temperature counts as before gel."""
    if limits.gel_temperature is None:
        return f"{WETTING} (The gel temperature is not entered, so this counts as before gel.)"
    gelled = np.flatnonzero((mould.coldest >= limits.gel_temperature) & ~mould.doubted)
    if not len(gelled) or lost < int(gelled[0]):
        return WETTING
    return "The slowest mould sensor had passed the gel temperature before."


def _not_logged(rule: str, mould: Mould, limits: CureLimits, limit: str, logged: bool) -> Finding:
    said = "The log shows no heat, so no pressure under heat." if logged else "The log has no pressure reading."
    return ruled(
        rule=rule,
        outcome=Outcome.MISSING,
        sentence=said,
        proof="cure",
        limit=limit,
        limit_source=limits.source,
        where=(Where(mould.log.source.file),),
        deviable=False,
        next_step="Find the pressure record of that run.",
        would_change="a pressure log of that run",
    )
