"""One suspicion against a sensor: what, how likely, and what shows it. Never a verdict on its own."""

from dataclasses import dataclass
from typing import Literal

from bladewright.figures import Where

Kind = Literal[
    "open", "stuck", "noisy", "swapped channels", "wrong thermocouple type", "constant offset", "drift",
    "cold-junction step",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Suspicion:
    """What may be wrong with which sensors."""

    kind: Kind
    channels: tuple[str, ...]
    likelihood: float  # 0 to 1, among the causes that were weighed
    evidence: str
    where: tuple[Where, ...]
    size: float | None = None  # how far it moves a reading [K]
