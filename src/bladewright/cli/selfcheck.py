"""Check this installation against the outside world."""

from collections import Counter

import typer

from bladewright.cli import showing


def selfcheck(json: showing.Json = False) -> None:
    """Compute every case that has a figure from outside again, on this machine. Exit code 1 when one does not hold
    that should.

    Examples: **bladewright selfcheck** or **bladewright selfcheck --json > selfcheck.json**
    """
    from rich.progress import track

    from bladewright.selfcheck.running import all_cases, run

    cases = all_cases()
    quiet = json
    checked = [run(case) for case in track(cases, "checking", disable=quiet, transient=True)]
    failed = [item for item in checked if not item.holds and not item.known_disagreement]
    known = [item for item in checked if item.known_disagreement]
    if json:
        showing.as_json([item.plain for item in checked])
    else:
        held = Counter(item.source for item in checked if item.holds)
        total = Counter(item.source for item in checked)
        showing.table(("source", "hold"), [(source, f"{held[source]} of {n}") for source, n in total.items()])
        for item in (*known, *failed):
            word = "known to disagree" if item.known_disagreement else "DOES NOT HOLD"
            why = f"; {item.known_disagreement}" if item.known_disagreement else ""
            showing.lines(
                f"{word}: {item.quantity}: ours {item.ours:.8g}, published {item.published:.8g}, "
                f"difference {item.difference:.2g}, band {item.band:.2g}{why} ({item.source})"
            )
        told = f"; {len(known)} are known to disagree" if known else ""
        typer.echo(f"{sum(held.values())} of {len(checked)} outside checks hold{told}.")
    if failed:
        raise typer.Exit(1)
