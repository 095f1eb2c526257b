"""What a person kitting a roll sees of its lot's acceptance test: yes, no, none asked, and no label without it."""

import io
import json
from pathlib import Path

import pypdf
import pytest
from typer.testing import CliRunner, Result

from bladewright.cli.commands import app
from bladewright.proof.kitting import NotToBeUsed

HERE = Path(__file__).parents[2] / "examples" / "fennmark"
ROLL = (HERE / "roll-R-124.toml").read_text(encoding="utf-8")
FILM = (HERE / "film.toml").read_text(encoding="utf-8")
WITHOUT = ROLL.split("[[acceptance]]")[0]
NONE_ASKED = FILM.split("# What each lot must show")[0]


def hours(folder: Path, roll: str, film: str = FILM, *more: str | Path) -> Result:
    (folder / "roll.toml").write_text(roll, encoding="utf-8")
    (folder / "film.toml").write_text(film, encoding="utf-8")
    given = ["adhesive-hours", HERE / "fm31.toml", folder / "roll.toml", "--rule", folder / "film.toml",
             "--now", "2026-04-15T08:00+01:00", *more]  # fmt: skip
    return CliRunner().invoke(app, [str(part) for part in given])


@pytest.mark.parametrize(
    ("roll", "begins"),
    [
        (ROLL, "Yes, by its log."),
        (WITHOUT, "Not while this is missing. No acceptance test of lot BF-21003 is on file."),
        (ROLL.replace('signed_by = "Osbrey Quillinder"', ""), "Not while this is missing. Nobody signed"),
        (ROLL.replace("32.6 MPa", "26.9 MPa"), "No. The lowest shear of lot BF-21003 is 26.9 MPa"),
        (ROLL.replace('SCF = "3 %", AF = "0 %"', 'SCF = "2 %", AF = "1 %"'), "No. At most 1 % adhesion failure"),
    ],
)
def test_the_answer_begins_with_what_the_lot_showed(tmp_path: Path, roll: str, begins: str) -> None:
    done = hours(tmp_path, roll, FILM, "--json")
    answer = json.loads(done.stdout)
    assert answer["answer"]["told"].startswith(begins)
    assert answer["acceptance_asked"]
    state = answer["rolls"][0]["state"]
    assert (state == "usable") == (roll == ROLL)
    assert done.exit_code == 1  # the roll of the example is not warmed through yet


def test_where_no_test_is_asked_it_is_said_for_one_roll_and_for_several(tmp_path: Path) -> None:
    said = "The film's file asks for no acceptance test of its lots."
    assert said in " ".join(hours(tmp_path, WITHOUT, NONE_ASKED).output.split())
    several = hours(tmp_path, WITHOUT, NONE_ASKED, HERE / "roll-R-124.toml")
    assert said in " ".join(several.output.split())


@pytest.mark.parametrize(
    ("roll", "film", "printed"),
    [
        (ROLL, FILM, "passed on 2026-04-10, signed by Osbrey Quillinder"),
        (WITHOUT, NONE_ASKED, "no test asked"),
    ],
)
def test_the_label_prints_how_the_lot_stands(tmp_path: Path, roll: str, film: str, printed: str) -> None:
    label = tmp_path / "label.pdf"
    hours(tmp_path, roll, film, "--label", label)
    (page,) = pypdf.PdfReader(io.BytesIO(label.read_bytes())).pages
    assert printed in " ".join(page.extract_text().split())


def test_a_lot_without_its_test_gets_no_label(tmp_path: Path) -> None:
    label = tmp_path / "label.pdf"
    done = hours(tmp_path, WITHOUT, FILM, "--label", label)
    assert isinstance(done.exception, NotToBeUsed)
    assert (done.exception.field, done.exception.value, done.exception.exit_code) == ("roll", "R-124", 1)
    assert not label.exists()
