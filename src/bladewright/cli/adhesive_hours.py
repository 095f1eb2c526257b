"""May this roll of adhesive be used: hours out, shelf life, its lot accepted, warmed through, dew point; its label."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from bladewright.cli import booked, showing

if TYPE_CHECKING:
    from bladewright.evidence.freezer_log import Unlogged
    from bladewright.figures import Finding
    from bladewright.proof.kitting import Kitted, StockLine


def adhesive_hours(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file: its film.", exists=True, dir_okay=False)],
    rolls: Annotated[list[Path], typer.Argument(help="Freezer logs, one for each roll.", dir_okay=False)],
    rule: Annotated[
        Path, typer.Option(help="The counting rule: the maker's limits and the shop's.", exists=True, dir_okay=False)
    ],
    now: Annotated[str, typer.Option(help="As of when, like 2026-06-20T08:00-04:00. Left out: the clock.")] = "",
    needed: Annotated[str, typer.Option(help="What the lay-up still takes until the mould is hot.")] = "0 h",
    days: Annotated[int, typer.Option(help="How far ahead to look for what expires.", min=0)] = 31,
    air: Annotated[str, typer.Option(help='Of the lay-up room, like "72 degF".')] = "",
    humidity: Annotated[str, typer.Option(help='Of the lay-up room, like "45 %".')] = "",
    surface: Annotated[str, typer.Option(help='The coldest part to be laid up, like "70 degF".')] = "",
    freezer: Annotated[Path | None, typer.Option(help="The freezer's own temperature log.", dir_okay=False)] = None,
    freezer_logger: Annotated[Path | None, typer.Option(help="Its logger description.", dir_okay=False)] = None,
    freezer_warmest: Annotated[str, typer.Option(help="Above this its rolls count as out.")] = "0 degF",
    freezer_interval: Annotated[str, typer.Option(help="The nominal step of that log.")] = "10 min",
    label: Annotated[Path | None, typer.Option(help="Write the kitting label of one usable roll here (PDF).")] = None,
    json: showing.Json = False,
) -> None:
    """Hours of adhesive rolls, unlogged ones in full: which may be used. Exit code 1 unless every rule passes.

    For one roll every rule is shown, warmed through before opening too; with the room given, the dew point.

    Example: **bladewright adhesive-hours fm31.toml roll-F-70.toml --rule film.toml --needed "6 h"**
    """
    from bladewright import units
    from bladewright.drawing.counting_rule import read_counting_rule
    from bladewright.drawing.file import read_drawing
    from bladewright.errors import BadInput
    from bladewright.evidence.freezer_log import read_freezer_log
    from bladewright.figures import Outcome
    from bladewright.proof.adhesive import judge_roll, stock
    from bladewright.proof.adhesive_answer import may_be_used
    from bladewright.proof.kitting import counted_in, kitted, rule_for, stock_lines, with_freezer
    from bladewright.proof.lot_acceptance import NOT_ASKED

    counting = rule_for(read_counting_rule(rule), read_drawing(drawing).adhesive)
    moment = booked.moment(now, "now")
    warm = _excursions(freezer, freezer_logger, freezer_warmest, freezer_interval)
    read = [with_freezer(read_freezer_log(path), warm, moment) for path in rolls]
    for roll, path in zip(read, rolls, strict=True):
        counted_in(roll, counting, moment, path.name)
    still = units.to_si(needed, "time")
    if still < 0.0:
        raise BadInput("is less than no time", field="needed", value=needed, allowed="at least 0 h", fix="like 6 h")
    found = stock(read, counting, moment, days, still)
    findings = list(judge_roll(read[0], counting, moment, still)) if len(read) == 1 else []
    findings += _room(air, humidity, surface)
    lines = stock_lines(found, counting)
    answer = may_be_used(read[0], counting, moment, still) if len(read) == 1 else None
    if label is not None and len(read) != 1:
        raise BadInput(
            "is for one roll", field="label", value=str(len(read)), allowed="one freezer log", fix="name one"
        )
    if json:
        told = None if label is None else _labelled(label, kitted(read[0], counting, findings, moment))
        showing.as_json({"as_of": moment, "answer": answer, "rolls": lines, "findings": findings, "label": told,
                         "acceptance_asked": counting.acceptance is not None})  # fmt: skip
    else:
        if answer is not None:
            showing.lines(f"{answer.question} {answer.told}")
            showing.missing_lines(answer.missing)
        _shown(lines, days)
        if answer is None and counting.acceptance is None:
            showing.lines(NOT_ASKED)
        if findings:
            showing.findings_table(findings, "", moment.tzinfo)
        showing.lines("No inspection finds adhesive that was too old when it was laid. " + showing.CAUTION)
        if label is not None:
            told = _labelled(label, kitted(read[0], counting, findings, moment))
            showing.lines(booked.paper_line(told))
    if found.unusable or any(finding.outcome is not Outcome.PASS for finding in findings):
        raise typer.Exit(1)


def _labelled(path: Path, what: "Kitted") -> dict[str, Any]:
    from bladewright.papers.label import kitting_label

    return booked.placed_paper(path, kitting_label(what), book=booked.HERE)


def _excursions(path: Path | None, description: Path | None, warmest: str, interval: str) -> "tuple[Unlogged, ...]":
    """When the freezer's own log cannot say that its rolls were cold."""
    from bladewright import units
    from bladewright.errors import MissingInput
    from bladewright.evidence.cure_log import read_cure_log
    from bladewright.evidence.description import read_logger_description
    from bladewright.proof.freezer import freezer_excursions

    if path is None and description is None:
        return ()
    if path is None or description is None:
        raise MissingInput(
            "is one of two files", field="freezer", allowed="the freezer's log and its logger description",
            fix="give both",
        )  # fmt: skip
    limit, step = units.to_si(warmest, "temperature"), units.to_si(interval, "time")
    return freezer_excursions(read_cure_log(path, read_logger_description(description)), limit, step)


def _room(air: str, humidity: str, surface: str) -> "list[Finding]":
    """The dew point, where the room was given whole."""
    from bladewright import units
    from bladewright.errors import MissingInput
    from bladewright.proof.adhesive import surface_above_dew_point

    given = {"air": air, "humidity": humidity, "surface": surface}
    if not any(given.values()):
        return []
    lacking = [name for name, text in given.items() if not text]
    if lacking:
        raise MissingInput(
            "is needed for the dew point", field=", ".join(lacking), allowed="air, humidity and surface together",
            fix="measure it in the lay-up room",
        )  # fmt: skip
    share = units.to_si(humidity, "fraction")
    temperatures = (units.to_si(text, "temperature") for text in (air, surface))
    warm, cold = temperatures
    return [surface_above_dew_point(warm, share, cold)]


def _shown(lines: "tuple[StockLine, ...]", days: int) -> None:
    """Every roll with what may be done with it."""
    showing.table(
        ("roll", "lot", "", "left", "last day", "why"),
        (
            (
                line.roll,
                line.lot,
                line.state,
                "-" if line.left is None else f"{line.left.value:.1f} h",
                "-" if line.expires is None else line.expires.isoformat(),
                line.why or "-",
            )
            for line in lines
        ),
        f"Rolls now, and what ends within {days} days",
    )
