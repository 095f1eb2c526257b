"""The commands that ask whether a blade stays in one piece: they answer, and refuse by field."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from bladewright.cli.commands import app
from bladewright.errors import BadInput, SeveralBadInputs

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def asked(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(part) for part in arguments])


def test_frequencies_judge_every_mode_and_say_that_vibration_is_not_trimmed_away() -> None:
    done = asked("frequencies", FM31)
    assert done.exit_code == 1, done.output  # a mode of this blade is for a person to look at
    told = " ".join(done.stdout.split())
    for words in ("first flap", "per rev", "droop at rest", "never trimmed away by re-tracking"):
        assert words in told


def test_frequencies_answer_first_and_give_each_mode_one_line() -> None:
    told = asked("frequencies", FM31).stdout
    assert told.startswith("REFER: ")
    rows = [line for line in told.splitlines() if "/rev" in line]
    assert len(rows) == 14  # seven modes of each pattern
    assert max(map(len, told.splitlines())) <= 80


def test_frequencies_for_programs_carry_their_units() -> None:
    told = json.loads(asked("frequencies", FM31, "--json").stdout)
    assert all(key.endswith("[Hz]") for key in told["modes"])
    assert {finding["outcome"] for finding in told["findings"]} <= {"pass", "refer", "fail"}
    assert told["missing"] == []


def test_flutter_answers_the_repaint_with_margin_and_match() -> None:
    done = asked("flutter", FM31, "--paint", "110 g/m^2", "--front", "25 %", "--json")
    assert done.exit_code == 1
    told = json.loads(done.stdout)
    outcomes = {finding["rule"]: finding["outcome"] for finding in told["findings"]}
    assert outcomes["match after the repaint, span moment"] == "fail"
    assert "flutter and divergence, held, the repaint" in outcomes
    assert "span moment, more than its mate's [kg m]" in told["repaint"]
    assert any(key.startswith("as drawn") and key.endswith("[mm]") for key in told["margin"])


@pytest.mark.parametrize(
    ("option", "value", "field"),
    [
        ("--paint", "110", "area_density"),
        ("--paint", "-110 g/m^2", "area_density"),
        ("--paint", "110 g", "area_density"),
        ("--front", "130 %", "front"),
        ("--front", "25 mm", "front"),
        ("--inner", "1.2", "inner"),
    ],
)
def test_a_coat_that_cannot_be_is_refused_by_field(option: str, value: str, field: str) -> None:
    given = {"--paint": "110 g/m^2"} | {option: value}
    done = asked("flutter", FM31, *(part for pair in given.items() for part in pair))
    assert isinstance(done.exception, SeveralBadInputs)
    (error,) = done.exception.errors
    assert error.field == field
    assert error.allowed
    assert error.file == "command line"


def test_a_coat_off_the_blade_is_refused() -> None:
    done = asked("flutter", FM31, "--paint", "110 g/m^2", "--outer", "4 m")
    assert isinstance(done.exception, BadInput)
    assert done.exception.field == "paint"
    assert done.exception.allowed == "a reach between 0.25 m and 3.55 m"


def test_the_structure_report_is_a_folder_with_a_page_and_a_paper(tmp_path: Path) -> None:
    out = tmp_path / "structure"
    done = asked("structure-report", FM31, "--out", out, "--json")
    assert done.exit_code == 0, done.output
    assert {path.name for path in out.iterdir()} >= {"index.html", "structure-report.pdf", "figures.js", "page.js"}
    told = json.loads(done.stdout)
    assert told["outcome"] in ("pass", "refer", "missing", "fail")
    assert [part["name"] for part in told["parts"]][:3] == ["Frequencies", "Droop and coning", "Flutter"]
    page = (out / "index.html").read_text(encoding="utf-8")
    assert "Does it stay in one piece?" in page
    assert "not a life limit" in page
    assert 'id="fan-collective"' in page
    assert page.index("Who decides:") < page.index("What comes first") < page.index("<summary>Every margin: ")
    assert all(part["next"] for part in told["parts"] if part["outcome"] != "pass")


def test_the_structure_report_writes_over_files_only(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"kept")
    done = asked("structure-report", FM31, "--out", tmp_path / "file")
    assert isinstance(done.exception, BadInput)
    assert done.exception.what == "is not a folder"
    assert (tmp_path / "file").read_bytes() == b"kept"
