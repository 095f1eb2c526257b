"""One invented season at the Fennmark Rotor Shop, from the drawing to the papers. A second run changes nothing."""

import datetime
import shutil
import textwrap
from pathlib import Path

from rich.console import Console
from rich.progress import track

from bladewright.figures import Figure, Outcome, in_both_units, spread
from bladewright.pairing.records import BladeSet
from bladewright.papers.blade import blade_record
from bladewright.papers.sets import set_record
from bladewright.proof.affected_runs import SensorFound, review_affected_runs
from bladewright.proof.reached_runs import day_begins
from bladewright.records import blades, checking, judging, opening, printing, runs, sets, trace
from examples.fennmark import cure, diary, flight, lots, structure
from examples.fennmark.evidence import write_evidence

SHOP = Path("demo-shop")
PAPERS = SHOP / "papers"
FLIGHT = SHOP / "flight-report"
STRUCTURE = SHOP / "structure-report"
CURE = SHOP / "cure"
TROUBLED_ROLL = "R-118"
FOUND_OFF, HIGH, LAST_GOOD = "Mould 2", 4.0, datetime.date(2026, 3, 25)  # a mould sensor, so much too high [K]


def main() -> None:
    """Live through the diary in a new book, or find every page of it there already; then show what the book answers."""
    console = Console(stderr=True)  # progress only
    files = write_evidence(SHOP / "from-the-floor")
    book = SHOP / "book"
    begun = datetime.datetime.combine(diary.BEGUN, datetime.time(7), datetime.UTC)
    if (book / "book.toml").is_file():
        opening.open_book(book)
    else:
        opening.create_book(book, shop="Fennmark Rotor Shop (invented)", zone=diary.ZONE, demo=True, at=begun)
    told = diary.pages(files)
    written = sum(not page.does(page.act) for page in track(told, "living through the diary", console=console))
    printed = _print(console)
    flown, pages = flight.report_files(begun)
    printed += sum([_put(FLIGHT / name, data) for name, data in pages.items()])
    whole, pages = structure.report_files(begun)
    printed += sum([_put(STRUCTURE / name, data) for name, data in pages.items()])
    cured, kept = cure.cure_files(SHOP / "from-the-floor", begun)
    printed += sum([_put(CURE / name, data) for name, data in kept.items()])
    lines = blades.all_blades()
    sheets = len(lots.SKIN_SHEETS) + len(lots.DOUBLER_SHEETS)
    print(
        f"\nFM-31 demo book: {len(lines)} serials, {sheets} sheets, {len(lots.ROLLS)} adhesive rolls, "
        f"{len(files.blades)} cures (all data invented)\n"
    )
    _show_blades(lines)
    _show_sets()
    where = trace.where_lot(TROUBLED_ROLL)
    flying = [f"{place.serial} on {place.aircraft}" for place in where.places if place.aircraft]
    print(f" adhesive roll {TROUBLED_ROLL}: in {len(where.serials)} blades; flying: {', '.join(flying) or 'none'}")
    checked = checking.check()
    print(
        f" the book {'agrees with itself' if checked.sound else 'DOES NOT AGREE WITH ITSELF'}: "
        f"{checked.events} events and {checked.files} files in one chain"
    )
    print(f" papers: {PAPERS / lines[0].serial}.pdf ...   shop acceptance records; not an airworthiness release")
    print(f" flight report: {FLIGHT}/index.html and {flight.PAPER}: {len(flown.answers)} questions answered")
    print(
        f" structure report: {STRUCTURE}/index.html and {structure.PAPER}: {len(whole.findings)} margins in one table"
    )
    parts = ", ".join(f"{part.name.partition(':')[0].lower()} {part.outcome.value.upper()}" for part in whole.parts)
    _fold(f"{whole.question} {whole.word}: {parts}")
    _show_cure(cured)
    _show_review()
    if written or printed:
        print(f" {written} pages of the diary written, {printed} files of papers and reports printed")
    else:
        print(" every page of the diary was in the book already: nothing was changed")


def _print(console: Console) -> int:
    """Print every record; how many were not there yet or are different now."""
    changed = 0
    for line in track(blades.all_blades(), "printing blade records", console=console):
        changed += _put(PAPERS / f"{line.serial}.pdf", blade_record(printing.paper_of_blade(line.serial)))
    for line in sets.all_sets():
        changed += _put(PAPERS / f"set {line.name}.pdf", set_record(printing.paper_of_set(line.name)))
    return changed


def _put(path: Path, data: bytes) -> bool:
    if path.is_file() and path.read_bytes() == data:
        return False
    path.parent.mkdir(exist_ok=True)
    path.write_bytes(data)
    return True


def _show_blades(lines: tuple[blades.BladeLine, ...]) -> None:
    width = max(40, min(120, shutil.get_terminal_size().columns) - 31)
    print(f" {'serial':10} {'verdict':18} first reason, then what next")
    for line in lines:
        stored = judging.latest_verdict(line.serial)
        assert stored is not None
        verdict = stored.verdict
        word = verdict.word.value
        if verdict.deviations:
            word = f"accepted under {', '.join(d.number for d in verdict.deviations)}"
        told = [verdict.first_reason, f"-> {f'flies in set {line.set_name}' if line.set_name else verdict.next_step}"]
        if verdict.may_fly_only_with:
            told[1] += f", only with {', '.join(verdict.may_fly_only_with)}"
        folded = [part for text in told for part in textwrap.wrap(text, width)]
        print(f" {line.serial:10} {word:18} {folded[0]}")
        for part in folded[1:]:
            print(f" {'':29} {part}")
    print()


def _show_sets() -> None:
    for line in sets.all_sets():
        match = sets.match_of(sets.set_named(line.name))
        _fold(f"set {line.name}: {_match(match)}")
        open_ = [finding.rule.partition(": ")[2] for finding in match.findings if finding.outcome is not Outcome.PASS]
        if open_:
            _fold(f"  REFER on {', '.join(open_)}: {line.formed_by} decided")
    left = [
        f"{item.serial} ({item.reason.removeprefix('may not be matched: ')})" for item in sets.propose_sets(2).leftovers
    ]
    _fold(f"left over: {', '.join(left)}")


def _show_cure(story: cure.CureStory) -> None:
    entries = len(story.fitted.factors)
    told = entries - len(story.fitted.not_told)
    print(f" oven: {told} of {entries} entries told by its survey; plan and run card: {CURE / cure.CARD}")
    _fold(f"  {story.card.told}")
    _fold(f"{story.cost.happened} {story.cost.told}")
    _fold(f"  {next(finding.sentence for finding in story.cost.findings if finding.rule.endswith('dwell'))}")


def _show_review() -> None:
    """A thermocouple reads high at its calibration: which cures since it was last known good does that reach?"""
    reached, _ = runs.filed_runs(FOUND_OFF, FOUND_OFF)
    since = day_begins(LAST_GOOD, reached[0].log.zone)
    until = day_begins(LAST_GOOD + datetime.timedelta(days=90), reached[0].log.zone)
    _fold(review_affected_runs(SensorFound(FOUND_OFF, HIGH, since, until), reached).told)


def _fold(text: str) -> None:
    width = max(60, min(120, shutil.get_terminal_size().columns))
    print(textwrap.fill(text, width, initial_indent=" ", subsequent_indent="   "))


def _match(match: BladeSet) -> str:
    before, after = match.differences[0], match.after_trim[0]
    text = f"span moment differs {_grams(before)}"
    if match.trim:
        weights = " and ".join(f"{1000 * t.mass:.1f} g {t.pocket}" for t in match.trim)
        weights += f" of {', '.join(sorted({t.serial for t in match.trim}))}"
        text += f" -> {_grams(after)} with {weights}"
    if match.handle_force is not None:
        text += f"; handle force in hover {in_both_units(match.handle_force)} +/- {spread(match.handle_force)}"
    return text


def _grams(figure: Figure) -> str:
    spread = "not quantified" if figure.uncertainty is None else f"{1000 * figure.uncertainty:.0f}"
    return f"{1000 * figure.value:.0f} +/- {spread} g m"


if __name__ == "__main__":
    main()
