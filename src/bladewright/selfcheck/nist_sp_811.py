"""Degrees as temperatures and degrees as steps, which never meet each other's 32."""

from functools import partial

from bladewright.selfcheck.case import Case
from bladewright.units import from_si, to_si

_SOURCE = "A. Thompson, B. N. Taylor, NIST SP 811, Guide for the Use of the SI, 2008, B.8 (from memory; closed form)"
_TEMPERATURES = {"250 degF": ("degC", 121.1111), "121 degC": ("degF", 249.8), "245 degF": ("degC", 118.3333),
                 "255 degF": ("degC", 123.8889)}  # fmt: skip
_STEPS = {"5 degF": ("K", 2.7778), "10 degF": ("K", 5.5556), "1.5 K": ("degF", 2.7)}


def _turned(text: str, unit: str, kind: str) -> float:
    return from_si(to_si(text, kind), unit, kind)


def _cases(values: dict[str, tuple[str, float]], kind: str) -> tuple[Case, ...]:
    return tuple(
        Case(_SOURCE, f"{kind} of {text} [{unit}]", partial(_turned, text, unit, kind), value, 5.1e-5, "four decimals")
        for text, (unit, value) in values.items()
    )


CASES: tuple[Case, ...] = (
    *_cases(_TEMPERATURES, "temperature"),
    *_cases(_STEPS, "temperature difference"),
    *_cases({"5 degF/min": ("K/min", 2.7778)}, "temperature rate"),
)
