"""A working day written into a book whose server crashes somewhere in it; started by test_records_crash."""

import os
import sys
from pathlib import Path

from bladewright.records.book import Kept
from bladewright.records.databases.postgresql import ADDRESS
from bladewright.records.drawings import approve_drawing, file_drawing
from bladewright.records.opening import create_book
from bladewright.records.people import add_person, authorise
from tests import postgres
from tests.records.cast import APPROVER, BEGUN, DRAUGHTSMAN, MAKER, MAY, OFFICE, RECEIVER, by
from tests.records.working_day import broken_off, wrong_with

DRAWING = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def main(into: str, crashes: str) -> None:
    """Crash that many times; say the total of acknowledged acts, or what was wrong."""
    folder = Path(into) / "book"
    with postgres.own_server() as server:
        os.environ[ADDRESS] = f"host={server.home} dbname=postgres user={server.user}"
        create_book(folder, shop="Fennmark Rotor Shop", zone="Europe/London", kept=Kept.POSTGRESQL, at=BEGUN)
        add_person(by(OFFICE), OFFICE)
        for person in (RECEIVER, DRAUGHTSMAN, APPROVER, MAKER):
            add_person(by(OFFICE), person)
            for scope in MAY[person]:
                authorise(by(OFFICE), person, scope, BEGUN.date())
        file_drawing(by(DRAUGHTSMAN), DRAWING, "A")
        approve_drawing(by(APPROVER), "FM-31", "A")
        total = 0
        for number in range(int(crashes)):
            acknowledged = broken_off(folder, 1.0, lambda _: server.crash())
            server.start()
            postgres.wait_for(os.environ[ADDRESS])
            total += len(acknowledged)
            if wrong := wrong_with(folder, acknowledged):
                print(f"crash {number}: {wrong[:5]}")
                raise SystemExit(1)
    print(total)


if __name__ == "__main__":
    main(*sys.argv[1:])
