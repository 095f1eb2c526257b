"""The shop desk on the invented shop's book: everybody may come in, each by a secret made for this copy."""

import datetime
import os
import secrets as random
import socket
from pathlib import Path
from typing import Final

os.environ["DJANGO_SETTINGS_MODULE"] = "bladewright.web.settings"  # before anything makes Django ready

from rich.console import Console
from rich.progress import track
from rich.table import Table

from bladewright.records import opening, secrets
from bladewright.records.acts import Act
from bladewright.records.matching_now import matching_now
from bladewright.web import serving
from examples.fennmark import diary, logging_run, people, second_batch, second_shelf
from examples.fennmark.evidence import write_evidence

SHOP: Final = Path("demo-desk")
BOOK: Final = SHOP / "book"
SECRETS: Final = SHOP / "secrets.txt"
PORT: Final = 8031
WORDS: Final = (
    *("amber", "anvil", "barley", "brook", "cedar", "cobble", "ember", "fern", "gorse", "harbour", "hazel", "heron"),
    *("kettle", "lantern", "linden", "marsh", "nettle", "otter", "pebble", "quill", "rowan", "saddle", "thistle"),
)


def main() -> None:
    """Build the book if it is not there, give everybody a secret once, and open the desk."""
    if not (SHOP / "done").exists():
        build(SHOP, Console())
    logging_run.begin(SHOP / "logger", second_batch.MORNING)
    start = serving.Start(BOOK, port=_free(PORT), logs=SHOP / "logger", clock=second_batch.MORNING)
    serving.serve(start, _say)


def build(shop: Path, console: Console) -> None:
    """Two batches of the invented shop in a new book; half a book of an earlier try is begun again."""
    files = write_evidence(shop / "from-the-floor")
    second = second_batch.write_second_batch(shop / "from-the-floor", files)
    begun = datetime.datetime.combine(diary.BEGUN, datetime.time(7), datetime.UTC)
    if (shop / "book" / "book.toml").is_file():
        opening.open_book(shop / "book")
    else:
        name = "Fennmark Rotor Shop (invented)"
        opening.create_book(shop / "book", shop=name, zone=diary.ZONE, demo=True, at=begun)
    shelf = diary.keeping_pages(second_shelf.write_second_shelf(shop / "from-the-floor" / "shop"))
    later = sorted([*second_batch.second_pages(second), *shelf], key=lambda page: (page.day, page.hour))
    told = [*diary.pages(files), *later]
    for page in track(told, "living through two batches, once", console=console):
        page.does(page.act)
    matching_now()  # what the sets page shows first takes a second for each blade
    _let_in(shop / "secrets.txt")
    (shop / "done").touch()


def _let_in(place: Path) -> None:
    """Everybody chooses a secret; what they chose stands in a file only this account can read."""
    chosen = {name: " ".join(random.choice(WORDS) for _ in range(4)) for name in people.PEOPLE}
    for name, secret in chosen.items():
        secrets.set_secret(Act(name, second_batch.MORNING, "to come in at the desk"), name, secret)
    place.touch(mode=0o600)
    place.write_text("".join(f"{name}\t{secret}\n" for name, secret in chosen.items()), encoding="utf-8")


def _free(port: int) -> int:
    """The usual port, or any other if somebody has it."""
    with socket.socket() as trial:
        trial.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        return 0 if trial.connect_ex((serving.LOCAL, port)) == 0 else port


def _say(address: str) -> None:
    console = Console()
    table = Table("who", "may", "secret", title=f"The shop desk is open at {address}", box=None, title_justify="left")
    for line in SECRETS.read_text(encoding="utf-8").splitlines():
        name, _, secret = line.partition("\t")
        table.add_row(name, ", ".join(people.PEOPLE[name]), secret)
    console.print(table)
    console.print("All people and data are invented. The desk's clock stands on 28 May 2026. Stop it with Ctrl-C.")


if __name__ == "__main__":
    main()
