"""Every case as a table for a page: ours, published, difference; the same on any machine that computes the same."""

import math
from collections.abc import Iterable
from itertools import groupby

from bladewright.selfcheck.running import Checked

HEAD = ("| quantity | ours | published | difference | of the band |", "|---|---|---|---|---|")
SILENT = 0.005  # of the band: a difference below is rounding, and rounding is a machine's own
FINEST = 0.1  # of the band: what is told of ours; an iteration's last digits are a machine's own too


def validation_table(checked: Iterable[Checked]) -> str:
    """Markdown: one heading a source, one row a case."""
    lines = []
    for source, cases in groupby(checked, key=lambda item: item.source):
        lines += [
            f"## {source}",
            "",
            *HEAD,
        ]
        lines += [_row(item) for item in cases]
        lines.append("")
    return "\n".join(lines)


def _row(item: Checked) -> str:
    share = abs(item.difference) / item.band if item.band else float(item.difference != 0.0)
    silent = share < SILENT
    ours = item.published if silent else item.published + _told_to(item.difference, item.band)
    cells = (
        item.quantity.replace("|", "\\|"),
        f"{ours:.6g}",
        f"{item.published:.6g}",
        "rounding" if silent else f"{_told_to(item.difference, item.band):+.2g}",
        "0 %" if silent else f"{share:.0%}".replace("%", " %"),
    )
    return f"| {' | '.join(cells)}{'' if item.holds else ' **does not hold**'}{_told(item)} |"


def _told_to(difference: float, band: float) -> float:
    """A difference to the decimal place in which a tenth of its band has its first digit."""
    return round(difference, -math.floor(math.log10(FINEST * band))) if band else difference


def _told(item: Checked) -> str:
    return f": {item.known_disagreement}" if item.known_disagreement else ""
