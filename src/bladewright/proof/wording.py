"""How values stand in a finding: the shop's units, and a limit nobody entered said as such."""

from collections.abc import Iterable

from bladewright import units
from bladewright.figures import Figure, Finding, Outcome, Where


def minutes(seconds: float) -> float:
    """Seconds as minutes."""
    return units.from_si(seconds, "min", "time")


def fahrenheit(kelvin: float) -> float:
    """A temperature [K] as degF."""
    return units.from_si(kelvin, "degF", "temperature")


def fahrenheit_steps(kelvin: float) -> float:
    """A temperature difference [K] as degF."""
    return units.from_si(kelvin, "degF", "temperature difference")


def fahrenheit_per_minute(rate: float) -> float:
    """A rate [K/s] as degF/min."""
    return units.from_si(rate, "degF/min", "temperature rate")


def psi(pascals: float) -> float:
    """A pressure [Pa] as psi."""
    return units.from_si(pascals, "psi", "pressure")


def spoken(time: str) -> str:
    """An ISO 8601 time in UTC as a sentence says it: "2026-03-24 14:51:00 UTC"."""
    return time.replace("T", " ").replace("Z", " UTC")


def figure(
    name: str,
    value: float,
    unit: str,
    uncertainty: float | None,
    *,
    method: str,
    source: str,
    limits_source: str | None,
) -> Figure:
    """A judged value; it is unvalidated where the limits it is held to have no source."""
    return Figure(name, value, unit, uncertainty, method=method, source=source, validated=bool(limits_source))


def ruled(
    rule: str,
    outcome: Outcome,
    sentence: str,
    *,
    proof: str,
    limit: str = "",
    limit_source: str | None = None,
    worst: Figure | None = None,
    where: Iterable[Where] = (),
    deviable: bool = True,
    next_step: str = "",
    would_change: str = "",
) -> Finding:
    """A finding; a pass has no next step and nothing to change it."""
    passes = outcome is Outcome.PASS
    return Finding(
        rule=rule,
        outcome=outcome,
        sentence=sentence,
        proof=proof,
        worst=worst,
        limit=limit,
        limit_source=limit_source or "",
        where=tuple(where),
        deviable=deviable,
        next_step="" if passes else next_step,
        would_change="" if passes else would_change,
    )


def no_limit(rule: str, proof: str, field: str, where: Iterable[Where] = ()) -> Finding:
    """A rule whose limit is not in the drawing: not a pass, and it says which entry is missing."""
    return ruled(
        rule,
        Outcome.MISSING,
        f"Not judged: the drawing does not say {field}.",
        proof=proof,
        where=where,
        next_step=f"Enter {field} with its source in a drawing revision.",
        would_change="the limit entered in the drawing",
    )
