"""Propose the best sets, or form one."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def match(
    by: Annotated[str, typer.Option(help="Who forms the sets. Without: proposed only, nothing is written.")] = "",
    size: Annotated[int, typer.Option(help="Blades in a set: 2, 3 or 4.")] = 2,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """The best sets of all accepted blades that are in no set yet; what is left over, and why.

    Examples: **bladewright match** to look, **bladewright match --by "Brona Lindlesk"** to form the sets
    """
    from bladewright.records.sets import form_set, propose_sets
    from bladewright.units import written

    if by:
        act = booked.act(book, by, reason)
    else:
        booked.read(book)
    found = propose_sets(size)
    formed = [form_set(act, "+".join(item.serials), item.serials) for item in found.sets] if by else []
    if json:
        showing.as_json({"matching": found, "formed": formed})
        return
    if not found.sets:
        showing.lines("No set: too few accepted blades are free, or none of them may fly together.")
    for item in found.sets:
        showing.findings_table(item.findings, " + ".join(item.serials))
        for trim in item.trim:
            mass = written(trim.mass, "g", "mass", 3)
            showing.lines(f"trim: {mass} at {trim.radius:g} m of {trim.serial}, pocket {trim.pocket}")
    for left in found.leftovers:
        showing.lines(f"left over: {left.serial}: {left.reason}")
    showing.lines(f"how the best is known: {found.method}")
    for one in formed:
        booked.written(one, f"set {one.name} formed", by, json=False)
