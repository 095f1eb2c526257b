"""What a calculation says of damage: margins of the clean and the damaged blade. It may only tighten."""

from dataclasses import dataclass

from bladewright.figures import Figure, Missing

CLEAN, DAMAGED = "margin of safety, clean blade", "margin of safety, with the damage"
WORSE = "stress there, over a clean blade's"
NOT_BONDED = -1.0  # margin of what bears nothing


@dataclass(frozen=True, slots=True)
class Worth:
    """Margins of a clean and of the damaged blade; ``margin`` is the least with the damage, None where not known."""

    margin: float | None
    figures: tuple[Figure, ...]
    missing: tuple[Missing, ...]
    would_change: tuple[str, ...]
