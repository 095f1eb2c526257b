"""Readings of a running cure in the units of whoever looks: value and spread, short enough for a wall of them."""

from typing import Final

from bladewright import units
from bladewright.figures import Figure, rounded
from bladewright.proof.watched_channels import ChannelNow

#: what the proof room tells, and how the same is told in metric
_METRIC: Final = {
    ("degF", "temperature"): "degC",
    ("degF", "temperature difference"): "K",
    ("degF/min", "temperature rate"): "K/min",
    ("psi", "pressure"): "kPa",
    ("psi/min", "pressure"): "kPa/min",
}
_SIGNS: Final = {"degF": "°F", "degC": "°C", "degF/min": "°F/min"}


def spoken(figure: Figure | None, kind: str, system: str) -> str:
    """A figure of this kind in a person's units; "-" where nothing can be believed."""
    if figure is None:
        return "-"
    unit = _METRIC.get((figure.unit, kind), figure.unit) if system == "metric" else figure.unit
    value, known = _in(figure.value, figure.unit, unit, kind), figure.uncertainty
    if known is not None and unit != figure.unit:
        known = abs(_in(known, figure.unit, unit, _step(kind)) - _in(0.0, figure.unit, unit, _step(kind)))
    reach = "" if known is None else f" ± {rounded(known, known)}"
    told = rounded(value, known) if known else f"{round(value, 1) + 0.0:.1f}"
    return f"{told}{reach} {_SIGNS.get(unit, unit)}"


def reading_of(channel: ChannelNow, system: str) -> str:
    """What a channel reads."""
    return spoken(channel.reading, "pressure" if channel.role == "pressure" else "temperature", system)


def limit_of(channel: ChannelNow, system: str) -> str:
    """The limit it moves towards, with its number."""
    if channel.limit_at is None:
        return ""
    kind = "pressure" if channel.role == "pressure" else "temperature"
    return f"{channel.towards}, {spoken(channel.limit_at, kind, system)}"


def rate_of(channel: ChannelNow, system: str) -> str:
    """How fast it moves."""
    return spoken(channel.rate, "pressure" if channel.role == "pressure" else "temperature rate", system)


def _step(kind: str) -> str:
    return "temperature difference" if kind == "temperature" else kind


def _in(value: float, unit: str, asked: str, kind: str) -> float:
    if unit == asked:
        return value
    per_minute = unit.endswith("/min") and kind == "pressure"  # a pressure's rate: the minute stays what it is
    had, wanted = (unit.removesuffix("/min"), asked.removesuffix("/min")) if per_minute else (unit, asked)
    scale, zero = units.scale_and_zero(had, kind if had != "K" else "temperature difference")
    return units.from_si(value * scale + zero, wanted, kind)
