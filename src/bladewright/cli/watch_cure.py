"""Watch a cure while its log is written. Reads only."""

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.drawing.limits import CureLimits
    from bladewright.evidence.description import LoggerDescription
    from bladewright.proof.cure_watch import CureWatch

FRAME_SECONDS = 0.5  # between two pictures of a replay


def watch_cure(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file: its limits.", exists=True, dir_okay=False)],
    log: Annotated[Path, typer.Argument(help="The file the logger writes; it may not be there yet.", dir_okay=False)],
    logger: Annotated[
        Path,
        typer.Option(
            "--logger", "--description", help="The logger description of its columns.", exists=True, dir_okay=False
        ),
    ],
    every: Annotated[str, typer.Option(help="How often the file is looked at.")] = "10 s",
    replay: Annotated[float, typer.Option(help="Replay a finished log at so many times the pace of the clock.")] = 0.0,
    once: Annotated[bool, typer.Option("--once", help="Look once and stop.")] = False,
    json: showing.Json = False,
) -> None:
    """Watch a cure: zones against limits, time to each, the end of the dwell. Exit code 1 if a limit was broken.

    It reads the log and commands nothing. It ends when the mould is cold enough to release, or with Ctrl-C.

    Example: **bladewright watch-cure fm31.toml run-071.csv --logger logger.toml --every "10 s"**
    """
    from bladewright import units
    from bladewright.drawing.file import read_drawing
    from bladewright.errors import BadInput, MissingInput
    from bladewright.evidence.description import read_logger_description

    limits = read_drawing(drawing).limits.cure
    if limits is None:
        raise MissingInput(
            "has no cure limits", file=drawing.name, field="limits.cure", fix="add a [limits.cure] table"
        )
    pause = units.to_si(every, "time")
    if not pause > 0.0:
        raise BadInput("is no time to wait", field="every", value=every, allowed="more than 0 s", fix='like "10 s"')
    if replay < 0.0:
        raise BadInput("runs backwards", field="replay", value=str(replay), allowed="more than 0", fix="like 600")
    how = read_logger_description(logger)
    states = _replayed(log, how, limits, replay) if replay else _followed(log, how, limits, pause, once=once)
    last = _as_json(_until_stopped(states)) if json else _on_a_page(_until_stopped(states))
    if last is None:
        raise MissingInput(
            "has no row to show", file=log.name, field="log", allowed="a log with a mould sensor and at least one row",
            fix="check the path and the roles in the logger description",
        )  # fmt: skip
    if last.broken:
        raise typer.Exit(1)


def _until_stopped(
    states: "Iterator[tuple[CureWatch | None, tuple[str, ...]]]",
) -> "Iterator[tuple[CureWatch | None, tuple[str, ...]]]":
    """The states until there are no more, or a person presses Ctrl-C; the last one still counts."""
    try:
        yield from states
    except KeyboardInterrupt:
        return


def _followed(
    path: Path, how: "LoggerDescription", limits: "CureLimits", pause: float, *, once: bool
) -> "Iterator[tuple[CureWatch | None, tuple[str, ...]]]":
    """A state at each look, until the mould is cold enough to release or a person stops it."""
    import time

    from bladewright.evidence.growing_log import GrowingLog
    from bladewright.proof.cure_watch import remembering, rest_after, watch_cure

    growing = GrowingLog(path, how)
    grown, state = time.monotonic(), None
    while True:
        begun = time.monotonic()
        look = growing.look()
        grown = begun if look.added else grown
        if look.log is not None:
            state = remembering(state, watch_cure(look.log, limits, begun - grown))
        yield state, look.notes
        if once or (state is not None and state.over):
            return
        time.sleep(rest_after(time.monotonic() - begun, pause))


def _replayed(
    path: Path, how: "LoggerDescription", limits: "CureLimits", speed: float
) -> "Iterator[tuple[CureWatch | None, tuple[str, ...]]]":
    """The states of a finished log, one for each picture, the last row always among them."""
    import time

    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.proof.cure_watch import as_of, remembering, rows_by, watch_cure

    log = read_cure_log(path, how)
    begun = time.monotonic()
    state = None
    note = f"A replay of {path.name} at {speed:g} times its pace."
    while True:
        rows = rows_by(log, time.monotonic() - begun, speed)
        state = remembering(state, watch_cure(as_of(log, max(1, rows)), limits))
        yield state, (note,)
        if rows >= len(log.rows):
            return
        time.sleep(FRAME_SECONDS)


def _on_a_page(states: "Iterator[tuple[CureWatch | None, tuple[str, ...]]]") -> "CureWatch | None":
    """One page that is drawn over in a terminal; elsewhere only what is new is printed, and the page at the end."""
    from rich.console import Console
    from rich.live import Live

    from bladewright.cli.watch_page import page

    console = Console(highlight=False)
    last, said = None, set()
    notes: tuple[str, ...] = ()
    with Live(console=console, auto_refresh=False, transient=False) as live:
        for state, notes in states:
            last = state or last
            if console.is_terminal:
                live.update(page(last, notes), refresh=True)
                continue
            for line in (*notes, *(warned.sentence for warned in (state.warnings if state else ()))):
                if line not in said:
                    said.add(line)
                    console.print(f"{state.at if state else ''} {line}".strip(), markup=False)
    if not console.is_terminal and last is not None:
        console.print(page(last, notes))
    if last is not None:
        showing.lines("Judge the finished log with bladewright judge-log. " + showing.CAUTION)
    return last


def _as_json(states: "Iterator[tuple[CureWatch | None, tuple[str, ...]]]") -> "CureWatch | None":
    """The last state, for programs."""
    last = None
    for state, _ in states:
        last = state or last
    if last is not None:
        showing.as_json(last)
    return last
