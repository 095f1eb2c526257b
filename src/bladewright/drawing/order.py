"""Two entries of one table of which the second must not be the smaller."""

from bladewright.errors import BadInput
from bladewright.typed import as_custom


def require_order(field: str, first: float | None, second: float | None, allowed: str) -> None:
    """Refuse a table whose ``field`` is short of the entry before it; both SI, None where not entered."""
    if first is not None and second is not None and second < first:
        raise as_custom(
            BadInput(
                f"{field} is not {allowed}", field=field, allowed=allowed, fix=f"check {field} and the entry before"
            )
        )
