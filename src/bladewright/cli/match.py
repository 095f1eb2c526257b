"""Propose the best sets."""

from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import booked, showing

if TYPE_CHECKING:
    from bladewright.pairing.records import BladeSet


def match(
    size: Annotated[int, typer.Option(help="Blades in a set: 2, 3 or 4.")] = 2,
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """The best sets of all accepted blades that are in no set yet; what is left over, and why. Nothing is written.

    Example: **bladewright match --size 2**
    """
    from bladewright.records.sets import propose_sets
    from bladewright.units import written

    booked.read(book)
    found = propose_sets(size)
    if json:
        sets = [_keyed(item) for item in found.sets]
        showing.as_json({"sets": sets, "leftovers": found.leftovers, "method": found.method})
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
    if found.sets:
        showing.lines("next: form a set with form-set, naming its blades")


def _keyed(item: "BladeSet") -> dict[str, object]:
    return {
        "serials": item.serials,
        "differences": showing.figures_as_json(item.differences),
        "after trim": showing.figures_as_json(item.after_trim),
        "trim": [
            {"serial": t.serial, "pocket": t.pocket, "radius [m]": t.radius, "mass [kg]": t.mass} for t in item.trim
        ],
        "handle force": showing.figures_as_json([item.handle_force]) if item.handle_force else None,
        "findings": item.findings,
    }
