"""What entries of one table must be to each other: in order, and told apart by their names."""

from collections.abc import Iterable

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


def require_told_apart(field: str, names: Iterable[str], taken: Iterable[str] = ()) -> None:
    """Refuse rows that an answer could not name: without a name, with one twice, or with one the answer itself uses."""
    seen = set(taken)
    for name in names:
        if not name or name in seen:
            what = f"{field}: {name!r} is the name of another row or answer" if name else f"{field}: a row has no name"
            raise as_custom(BadInput(what, allowed="a name of its own for each", fix="give the row another name"))
        seen.add(name)
