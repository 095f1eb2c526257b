"""Every serial at a glance."""

from bladewright.cli import booked, showing


def blades(book: booked.BookFolder = booked.HERE, json: showing.Json = False) -> None:
    """Every blade in the book: its verdict, first reason, next step and set.

    Example: **bladewright blades --book book**
    """
    from bladewright.records.blades import all_blades
    from bladewright.records.judging import latest_verdict

    booked.read(book)
    lines = all_blades()
    if json:
        showing.as_json(lines)
        return
    rows = []
    for line in lines:
        stored = latest_verdict(line.serial)
        reason, step = (
            (stored.verdict.first_reason, stored.verdict.next_step) if stored else ("not judged yet", "judge")
        )
        rows.append((line.serial, line.word, reason, f"in set {line.set_name}" if line.set_name else step))
    showing.table(("serial", "verdict", "first reason", "next step"), rows)
