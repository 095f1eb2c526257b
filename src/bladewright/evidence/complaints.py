"""All or nothing: what was found wrong with one file, raised together."""

from typing import Final

from bladewright.errors import BadInput, SeveralBadInputs

#: more would not be read; the first ones show what the matter is
SHOWN: Final = 20


def raise_if_any(complaints: list[BadInput], file: str) -> None:
    """``SeveralBadInputs`` with the first ones in the order of the rows, and how many more there are."""
    if not complaints:
        return
    ordered = sorted(complaints, key=lambda error: error.row or 0)
    shown = ordered[:SHOWN]
    if left := len(ordered) - len(shown):
        shown.append(BadInput(f"and {left} more", file=file, value=left, fix="mend these first, then read again"))
    raise SeveralBadInputs(shown)
