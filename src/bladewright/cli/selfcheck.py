"""Check this installation against the outside world."""

from collections import Counter

import typer

from bladewright.cli import showing


def selfcheck(json: showing.Json = False) -> None:
    """Compute every case that has a figure from outside again, on this machine. Exit code 1 when one does not hold.

    Examples: **bladewright selfcheck** or **bladewright selfcheck --json > selfcheck.json**
    """
    from rich.progress import track

    from bladewright.selfcheck.running import all_cases, run

    cases = all_cases()
    quiet = json
    checked = [run(case) for case in track(cases, "checking", disable=quiet, transient=True)]
    failed = [item for item in checked if not item.holds]
    if json:
        showing.as_json(checked)
    else:
        held = Counter(item.source for item in checked if item.holds)
        total = Counter(item.source for item in checked)
        showing.table(("source", "hold"), [(source, f"{held[source]} of {n}") for source, n in total.items()])
        for item in failed:
            showing.lines(
                f"DOES NOT HOLD: {item.quantity}: ours {item.ours:.8g}, published {item.published:.8g}, "
                f"difference {item.difference:.2g}, band {item.band:.2g} ({item.source})"
            )
        typer.echo(f"{len(checked) - len(failed)} of {len(checked)} outside checks hold.")
    if failed:
        raise typer.Exit(1)
