"""Every case as a table for a page: ours, published, difference; the same on any machine that computes the same."""

from collections.abc import Iterable
from itertools import groupby

from bladewright.selfcheck.running import Checked

HEAD = ("| quantity | ours | published | difference | of the band |", "|---|---|---|---|---|")
SILENT = 0.005  # of the band: a difference below is rounding, and rounding is a machine's own


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
    ours = item.published if silent else item.ours
    cells = (
        item.quantity.replace("|", "\\|"),
        f"{ours:.6g}",
        f"{item.published:.6g}",
        "rounding" if silent else f"{item.difference:+.2g}",
        "0 %" if silent else f"{share:.0%}".replace("%", " %"),
    )
    return f"| {' | '.join(cells)}{'' if item.holds else ' **does not hold**'}{_told(item)} |"


def _told(item: Checked) -> str:
    return f": {item.known_disagreement}" if item.known_disagreement else ""
