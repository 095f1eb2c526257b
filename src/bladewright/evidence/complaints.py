"""All or nothing: what was found wrong with one file, raised together."""

from typing import Final

from bladewright.errors import BadInput, SeveralBadInputs

#: more would not be read; the first ones show what the matter is
SHOWN: Final = 20
#: a file this wrong is not looked through to its end
ENOUGH: Final = 1000


def raise_if_any(complaints: list[BadInput], file: str) -> None:
    """``SeveralBadInputs`` with the first ones in the order of the rows, and how many more there are."""
    if not complaints:
        return
    ordered = sorted(complaints, key=lambda error: error.row or 0)
    shown = ordered[:SHOWN]
    if left := len(ordered) - len(shown):
        least = "at least " if len(ordered) >= ENOUGH else ""
        what, fix = f"and {least}{left} more", "mend these first, then read again"
        shown.append(BadInput(what, file=file, value=left, fix=fix))
    raise SeveralBadInputs(shown)
