"""Judge a blade from what is on file."""

from typing import Annotated

import typer

from bladewright.cli import booked, showing


def judge(
    serial: Annotated[str, typer.Argument(help="The blade's serial.")],
    by: booked.By,
    reason: booked.Why = "",
    book: booked.BookFolder = booked.HERE,
    json: showing.Json = False,
) -> None:
    """Judge a blade by every rule on everything filed, and keep the verdict. Exit code 1 unless it is accepted.

    Example: **bladewright judge FM31-0107 --by "Wenda Harkthwaite"**
    """
    from bladewright.proof.records import Word
    from bladewright.records.book import opened
    from bladewright.records.judging import judge as judged

    stored = judged(booked.act(book, by, reason), serial)
    verdict = stored.verdict
    if json:
        showing.as_json(stored)
    else:
        showing.findings_table(verdict.findings, serial, opened().clock(stored.at).tzinfo)
        showing.lines(f"{serial}: {verdict.word.value.upper()}. {verdict.first_reason}")
        if verdict.missing_proofs:
            showing.lines(f"not on file: {', '.join(verdict.missing_proofs)}")
        for deviation in verdict.deviations:
            mates = f"; only with {', '.join(deviation.only_with)}" if deviation.only_with else ""
            showing.lines(
                f"under {deviation.number}, accepted by {deviation.accepted_by}: {deviation.reason}{mates}. "
                f"The finding stands: {deviation.rule}"
            )
        showing.lines(f"next: {verdict.next_step}")
        showing.lines("The same evidence was judged before; nothing changed." if stored.already else showing.CAUTION)
    if verdict.word not in (Word.ACCEPTED, Word.ACCEPTED_UNDER_DEVIATION):
        raise typer.Exit(1)
