"""Which cures a sensor that was found off may have reached, and which verdicts change."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import booked, showing

if TYPE_CHECKING:
    from bladewright.proof.affected_runs import AffectedRuns, Run, SensorFound

SHARES = ("at none", "at half", "at all")
WORDS = {0.5: "half", 1.0: "all"}


def affected_runs(
    sensor: Annotated[str, typer.Option(help="The sensor's name; a channel of that name is taken to be it.")],
    off: Annotated[str, typer.Option(help='Reading less true: "4 degC" read too much, "+/- 4 degC" not known which.')],
    drawing: Annotated[
        Path | None, typer.Argument(help="The blade's TOML file: its limits. None with --book.", dir_okay=False)
    ] = None,
    logs: Annotated[list[Path] | None, typer.Argument(help="The logs of the runs.", dir_okay=False)] = None,
    logger: Annotated[
        Path | None,
        typer.Option("--logger", "--description", help="The logger description.", exists=True, dir_okay=False),
    ] = None,
    channel: Annotated[str, typer.Option(help="The logger's channel it sat on, if it has another name.")] = "",
    last_good: Annotated[str, typer.Option(help="The day it was last known good. Left out: never.")] = "",
    found: Annotated[str, typer.Option(help="The day it was taken out of use. Left out: today.")] = "",
    book: Annotated[Path | None, typer.Option("--book", help="Review the cures filed in this record book.")] = None,
    json: showing.Json = False,
) -> None:
    """Judge every run since a sensor was last good at none, half, all of what it was off. Exit code 1 if one changes.

    The worst stands; a correction never lifts a fail. Where the sensor's channel is not on record, each is tried.

    Example: **bladewright affected-runs fm31.toml run-071.csv run-072.csv --logger logger.toml --sensor "Mould 2"
    --off "4 degC" --last-good 2026-03-01**
    """
    from bladewright.proof.affected_runs import SensorFound, review_affected_runs
    from bladewright.proof.reached_runs import at_shares, day_begins, known_somewhere, ways_off

    offsets = ways_off(off)
    good, taken_out = booked.day(last_good, "last_good"), booked.day(found, "found")
    if book is None:
        runs, without = _from_files(drawing, logs or [], logger, sensor, channel)
    else:
        runs, without = _from_book(book, sensor, channel)
    known_somewhere(runs, channel)
    zone = runs[0].log.zone if runs else "UTC"
    good_from = None if good is None else day_begins(good, zone)
    until = booked.now() if taken_out is None else day_begins(taken_out, zone)
    found_off = [SensorFound(sensor, offset, good_from, until) for offset in offsets]
    reviews = [review_affected_runs(one, runs) for one in found_off]
    if json:
        shares = [at_shares(one, runs, review) for one, review in zip(found_off, reviews, strict=True)]
        showing.as_json({"reviews": reviews, "at_shares": shares, "not_judged": without})
    else:
        for one, review in zip(found_off, reviews, strict=True):
            _shown(one, runs, review, without)
        showing.lines("The log shows the tool, not the bondline. " + showing.CAUTION)
    if any(review.changed for review in reviews) or without:
        raise typer.Exit(1)


def _from_files(
    drawing: Path | None, logs: list[Path], logger: Path | None, sensor: str, channel: str
) -> "tuple[tuple[Run, ...], tuple[tuple[str, str], ...]]":
    from bladewright.drawing.file import read_drawing
    from bladewright.errors import MissingInput
    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.evidence.description import read_logger_description
    from bladewright.proof.reached_runs import run_of

    if drawing is None or not logs or logger is None:
        raise MissingInput(
            "a drawing, its logs and their logger description are needed", field="command line",
            allowed="DRAWING LOG... --logger FILE, or --book FOLDER", fix="give all three, or the record book",
        )  # fmt: skip
    limits = read_drawing(drawing).limits.cure
    if limits is None:
        raise MissingInput(
            "has no cure limits", file=drawing.name, field="limits.cure", fix="add a [limits.cure] table"
        )
    how = read_logger_description(logger)
    return tuple(run_of(read_cure_log(log, how), limits, sensor, channel) for log in logs), ()


def _from_book(book: Path, sensor: str, channel: str) -> "tuple[tuple[Run, ...], tuple[tuple[str, str], ...]]":
    booked.read(book)
    from bladewright.records.runs import filed_runs

    return filed_runs(sensor, channel)


def _shown(
    found: "SensorFound", runs: "tuple[Run, ...]", review: "AffectedRuns", without: tuple[tuple[str, str], ...]
) -> None:
    from bladewright.proof.reached_runs import at_shares

    shares = {(one.file, one.started, one.serials): one.outcomes for one in at_shares(found, runs, review)}
    showing.lines(review.told)
    showing.table(
        ("run", "began", "serials", *SHARES, "what got worse"),
        (
            (
                run.file,
                run.started,
                ", ".join(run.serials) or "-",
                *(showing.MARKS[outcome.value] for outcome in shares[run.file, run.started, run.serials]),
                "; ".join(
                    f"{one.rule} {showing.MARKS[one.after.value]} at {WORDS[one.share]} on {one.channel}"
                    for one in run.changed
                )
                or "nothing",
            )
            for run in review.reviewed
        ),
        "Runs it may have reached",
    )
    for run in review.reviewed:
        for one in run.changed:
            if one.after is run.after:  # what decides; the rest stands in the table and in --json
                showing.lines(f"{run.file}: {one.rule}: {one.sentence}")
        if run.remark:
            showing.lines(f"{run.file}: {run.remark}")
    for file, why in review.not_reached:
        showing.lines(f"not reached: {file}: {why}")
    for file, why in without:
        showing.lines(f"not judged, so it counts: {file}: {why}")
    if review.serials:
        showing.lines(f"Serials whose verdict gets worse: {', '.join(review.serials)}.")
        showing.lines("Where each flies: bladewright where-evidence with the run's file. A person decides on each.")
