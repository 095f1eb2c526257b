"""The flight commands: they answer, write nothing, and refuse by field."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from bladewright.cli.commands import app
from bladewright.errors import BadInput

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def asked(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(part) for part in arguments])


def test_a_compared_change_shows_old_new_and_difference_and_writes_nothing() -> None:
    before = FM31.read_bytes()
    done = asked("compare-change", FM31, "reflex.angle=2.3 deg", "--json")
    assert done.exit_code == 0, done.output
    rows = {row["name"]: row for row in json.loads(done.stdout)["moved"]}
    row = rows["section moment coefficient"]
    old, new, difference = (
        row[part]["section moment coefficient [1]"]["value"] for part in ("old", "new", "difference")
    )
    assert new - old == pytest.approx(difference)
    assert difference > 0.0  # reflex up is nose up
    assert FM31.read_bytes() == before


def test_a_compared_change_reads_well_in_a_terminal() -> None:
    done = asked("compare-change", FM31, "reflex.angle = '2.3 deg'")
    assert done.exit_code == 0
    assert "What moved" in done.stdout
    assert "did not move:" in done.stdout
    assert "The drawing is as it was" in done.stdout


@pytest.mark.parametrize(("text", "field"), [("reflex.angle", "changes"), ("=2 deg", "changes"), ("reflx=1", "reflx")])
def test_a_change_that_cannot_be_read_is_refused_by_field(text: str, field: str) -> None:
    done = asked("compare-change", FM31, text)
    assert isinstance(done.exception, BadInput)
    assert done.exception.field == field


def test_sensitivities_name_the_strongest_dimension_and_its_tolerance() -> None:
    done = asked("sensitivities", FM31)
    assert done.exit_code == 0, done.output
    assert "top skin's thickness" in done.stdout
    assert "its tolerance" in done.stdout
    assert "all entered tolerances together" in done.stdout


def test_sizing_the_reflex_says_roll_mould_and_where_the_lever_would_rise() -> None:
    done = asked("size-reflex", FM31, "--handle-force", "2 lbf")
    assert done.exit_code == 0, done.output
    for words in ("handle force asked for, hover: 8.9 N (2 lbf)", "least power-off speed", "An estimate until flown"):
        assert words in done.stdout
    risen = asked("size-reflex", FM31, "--handle-force", "-3 lbf")
    assert risen.exit_code == 1
    assert "rises by itself" in " ".join(risen.stdout.split())


def test_the_flight_report_is_a_folder_with_a_page_and_a_paper(tmp_path: Path) -> None:
    out = tmp_path / "report"
    done = asked("flight-report", FM31, "--out", out, "--json")
    assert done.exit_code == 0, done.output
    assert {path.name for path in out.iterdir()} >= {"index.html", "flight-report.pdf", "figures.js", "page.js"}
    assert len(json.loads(done.stdout)["answers"]) >= 5
    assert not list(out.glob(".*"))


def test_the_flight_report_writes_over_files_only(tmp_path: Path) -> None:
    (tmp_path / "file").write_bytes(b"kept")
    (tmp_path / "folder" / "index.html").mkdir(parents=True)
    for out in ("file", "folder"):
        done = asked("flight-report", FM31, "--out", tmp_path / out)
        assert isinstance(done.exception, BadInput)
        assert done.exception.what in ("is not a folder", "is not an ordinary file")
        assert str(done.exception.file).startswith(str(tmp_path / out))
    assert (tmp_path / "file").read_bytes() == b"kept"
    assert [path.name for path in (tmp_path / "folder").iterdir()] == ["index.html"]
