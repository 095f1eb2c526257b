"""The page of a cure that is watched: stage and dwell on top, then every channel, then what is to be done."""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from rich.console import RenderableType

    from bladewright.figures import Figure
    from bladewright.proof.cure_watch import CureWatch

HEADINGS = ("channel", "zone", "reads", "moves", "is", "limit ahead", "in")


def page(watch: "CureWatch | None", notes: tuple[str, ...]) -> "RenderableType":
    """One state as a page; before the first row only the notes."""
    from rich.console import Group
    from rich.text import Text

    from bladewright.proof.cure_watch import READS_ONLY

    below = [Text(note, style="italic") for note in notes]
    if watch is None:
        return Group(*below, Text("Waiting for the first row."), Text(READS_ONLY, style="dim"))
    head = Text(f"{watch.file}   {watch.at}   {watch.stage.upper()}", style="bold")
    warned = [
        Text(f"{'!!' if one.broken else ' !'} {one.sentence}", style="bold reverse" if one.broken else "bold")
        for one in watch.warnings
    ]
    unwatched = [Text(f" ? {sentence}", style="dim") for sentence in watch.not_watched]
    told = Text(f"Dwell: {watch.dwell.told}.")
    return Group(head, told, _channels(watch), *warned, *unwatched, *below, Text(READS_ONLY, style="dim"))


def _channels(watch: "CureWatch") -> "RenderableType":
    from rich import box
    from rich.table import Table
    from rich.text import Text

    drawn = Table(box=box.SIMPLE_HEAD, pad_edge=False)
    for heading in HEADINGS:
        drawn.add_column(heading, overflow="fold", justify="right" if heading in ("reads", "moves", "in") else "left")
    for channel in watch.channels:
        loud = channel.state in ("OUTSIDE", "no reading")
        ahead = channel.limit if channel.to_limit is not None else ""
        cells = (
            channel.channel,
            f"{channel.zone} {channel.side}".strip(),
            _shown(channel.reading, 1),
            _shown(channel.rate, 2),
            channel.state,
            ahead,
            _shown(channel.to_limit, 0),
        )
        drawn.add_row(*(Text(cell) for cell in cells), style="bold" if loud else "")
    return drawn


def _shown(figure: "Figure | None", places: int) -> str:
    return "-" if figure is None else f"{figure.value:.{places}f} {figure.unit}"
