"""The cure's commands: each question in one command, exit codes, JSON with units, and what is refused by field."""

import json
from pathlib import Path
from typing import Any

import pytest
from typer.testing import CliRunner, Result

from bladewright.cli.commands import app
from bladewright.errors import BadInput
from examples.fennmark.evidence import Evidence, write_evidence
from examples.fennmark.survey import write_survey

EXAMPLES = Path(__file__).parents[2] / "examples" / "fennmark"
FM31, SURVEY_LOGGER = EXAMPLES / "fm31.toml", EXAMPLES / "survey-logger.toml"


def asked(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(part) for part in arguments])


def said(result: Result) -> dict[str, Any]:
    answer: dict[str, Any] = json.loads(result.stdout)
    return answer


@pytest.fixture(scope="module")
def floor(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    return write_evidence(tmp_path_factory.mktemp("floor"))


@pytest.fixture(scope="module")
def oven(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("survey")
    out = folder / "oven.toml"
    done = asked("fit-oven", FM31, write_survey(folder), "--logger", SURVEY_LOGGER, "--out", out)
    assert done.exit_code == 0, done.output
    assert "+/- (k = 2)" in done.stdout
    assert "not told by this survey" in " ".join(done.stdout.split())
    return out


def test_is_the_blade_cured_whose_zone_four_died_is_one_command() -> None:
    done = asked("cure-cost", FM31, "--zone", "4", "--dead-after", "40 min")
    text = " ".join(done.stdout.split())
    assert done.exit_code == 1
    expected = (
        "Not proven: hold the blade", "What would settle it", "retained coupon", "Who decides", "Rests on",
        "takes back no finding", "Unvalidated data", "No inspection method measures bond strength",
    )  # fmt: skip
    for words in expected:
        assert words in text


def test_the_same_for_programs_has_units_in_its_keys(oven: Path) -> None:
    done = asked("cure-cost", FM31, "--zone", "4", "--dead-after", "40 min", "--oven", oven, "--json")
    assert done.exit_code == 1
    answer = said(done)
    lowest = answer["figures"]["lowest credible degree of cure, zone 4 [%]"]
    assert 80.0 < lowest["value"] < 93.0
    assert lowest["validated"] is False
    assert len(answer["places"]) == 6
    assert {finding["outcome"] for finding in answer["findings"]} == {"refer"}
    assert "survey survey.csv" in json.dumps(answer["rests"])


def test_a_log_is_asked_the_same_way(floor: Evidence) -> None:
    log = floor.blades[1].cure
    done = asked("cure-cost", FM31, "--log", log, "--description", floor.logger, "--json")
    assert done.exit_code == 1
    assert "zone 4 was not read" in said(done)["happened"]


def test_late_pressure_is_settled_by_no_cure() -> None:
    done = asked("cure-cost", FM31, "--pressure-late", "10 min", "--json")
    outcomes = {finding["rule"]: finding["outcome"] for finding in said(done)["findings"]}
    assert outcomes["cure cost: wetting"] == outcomes["cure cost: second dwell"] == "fail"


@pytest.mark.parametrize(
    ("options", "field"),
    [
        ((), "fault"),
        (("--zone", "9", "--dead-after", "40 min"), "zone"),
        (("--dead-after", "40 min"), "zone"),
        (("--zone", "4", "--low", "3 degF/min"), "low"),
        (("--zone", "4", "--dead-after", "40"), "dead_after"),
        (("--zone", "4", "--dead-after", "40 min", "--log", str(FM31)), "log"),
        (("--log", str(FM31)), "description"),
    ],
)
def test_a_fault_told_badly_is_refused(options: tuple[str, ...], field: str) -> None:
    done = asked("cure-cost", FM31, *options)
    assert isinstance(done.exception, BadInput)
    assert done.exception.field == field
    assert done.exception.allowed or done.exception.fix


def test_a_plan_and_its_card(oven: Path, tmp_path: Path) -> None:
    done = asked("plan-cure", FM31, "--oven", oven, "--card", tmp_path / "card", "--json")
    assert done.exit_code == 0, done.output
    answer = said(done)
    assert answer["meets all"] is True
    assert 1.0 < answer["set points"]["ramp [degF/min]"]["value"] < 5.0
    assert answer["expected"]["set point begins to fall [min]"]["value"] > 60.0
    assert (tmp_path / "card" / "run-card.pdf").read_bytes().startswith(b"%PDF-")
    assert [path.name for path in (tmp_path / "card").iterdir()] == ["run-card.pdf"]


def test_a_plan_reads_well_and_says_what_it_rests_on() -> None:
    done = asked("plan-cure", FM31)
    assert done.exit_code == 0, done.output
    text = " ".join(done.stdout.split())
    for words in ("Set: up at", "Before heat: bladder leak test", "adhesive.kinetics: no source", "commands no heater"):
        assert words in text


def test_where_no_plan_keeps_the_limits_the_answer_is_no(tmp_path: Path) -> None:
    cold = tmp_path / "cold.toml"
    text = FM31.read_text(encoding="utf-8").replace('heater_greatest = "300 degF"', 'heater_greatest = "251 degF"')
    cold.write_text(text, encoding="utf-8")
    done = asked("plan-cure", cold)
    assert done.exit_code == 1
    assert "Do not run this" in " ".join(done.stdout.split())


def test_a_card_replaces_nothing_but_itself(tmp_path: Path) -> None:
    (tmp_path / "card" / "run-card.pdf").mkdir(parents=True)
    done = asked("plan-cure", FM31, "--card", tmp_path / "card")
    assert isinstance(done.exception, BadInput)
    assert done.exception.what == "is not an ordinary file"


def test_a_drawing_without_an_oven_cannot_be_fitted(tmp_path: Path) -> None:
    text = FM31.read_text(encoding="utf-8")
    bare = tmp_path / "bare.toml"
    bare.write_text(text[: text.index("[oven]")] + text[text.index("[schedule]") :], encoding="utf-8")
    done = asked("fit-oven", bare, write_survey(tmp_path), "--description", SURVEY_LOGGER)
    assert isinstance(done.exception, BadInput)
    assert done.exception.field == "oven"


def test_a_production_log_is_no_survey_by_power(floor: Evidence) -> None:
    done = asked("fit-oven", FM31, floor.blades[0].cure, "--description", floor.logger, "--json")
    assert done.exit_code == 0, done.output  # heaters drive it
    assert said(done)["driven by"] == "the heaters' temperatures"
    assert "mould_to_bondline 1" in said(done)["not told by the survey"]
