"""The invented shop's questions about its cures, each by one command."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner

from bladewright.cli.commands import app
from examples.fennmark.evidence import Evidence, write_evidence

HERE = Path(__file__).parents[2] / "examples" / "fennmark"


@pytest.fixture(name="batch", scope="module")
def _batch(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    return write_evidence(tmp_path_factory.mktemp("batch"))


def answered(*arguments: str | Path) -> tuple[int, dict[str, object]]:
    done = CliRunner().invoke(app, [*(str(part) for part in arguments), "--json"])
    return done.exit_code, json.loads(done.stdout)


def test_a_roll_with_31_h_on_record_and_3_h_nobody_logged_may_be_used() -> None:
    code, answer = answered(
        "adhesive-hours", HERE / "fm31.toml", HERE / "roll-R-124.toml", "--rule", HERE / "film.toml",
        "--now", "2026-04-15T08:00+01:00", "--needed", "9 h",
    )  # fmt: skip
    told = answer["answer"]["told"]  # type: ignore[index,call-overload]
    assert told.startswith("Yes, by its log. Roll R-124 was out for 31.0 h on record and 3.0 h nobody logged")
    assert "not warmed through" in told
    assert "The acceptance test of lot BF-21003 passed on 2026-04-10, signed by Osbrey Quillinder." in told
    by_rule = {(one["rule"], one["worst"]["name"]): one["worst"]["value"]  # type: ignore[index]
               for one in answer["findings"] if one["worst"]}  # type: ignore[attr-defined]  # fmt: skip
    # (34.1 + 33.2 + 35.0 + 32.6 + 33.9) / 5 and (31.5 + 30.8 + 32.4 + 31.9 + 30.6) / 5, by hand
    assert by_rule["lot: mean", "mean shear"] == pytest.approx(33.76)
    assert by_rule["lot: mean", "mean peel"] == pytest.approx(31.44)
    assert code == 1  # not before it was taken out and warmed


def test_a_thermocouple_four_degrees_off_reaches_the_runs_since_it_was_good(batch: Evidence) -> None:
    logs = [blade.cure for blade in batch.blades]
    code, answer = answered(
        "affected-runs", batch.drawing, *logs, "--logger", batch.logger, "--sensor", "Mould 4", "--off", "4 degC",
        "--last-good", "2026-03-16", "--found", "2026-04-16",
    )  # fmt: skip
    (review,) = answer["reviews"]  # type: ignore[misc]
    assert code == 1
    assert len(review["reviewed"]) == len(logs)  # type: ignore[index]
    assert "None gets better by this" in review["told"]  # type: ignore[index]


@pytest.mark.parametrize(("day", "late"), [("2026-04-16", []), ("2026-04-17", ["oven: sensor checks"])])
def test_the_oven_is_blocked_from_the_day_after_its_checks_were_due(batch: Evidence, day: str, late: list[str]) -> None:
    _, findings = answered("oven-ready", HERE / "oven.toml", "--logger", batch.logger, "--on", day)
    assert [one["rule"] for one in findings if one["outcome"] == "fail"] == late  # type: ignore[index,attr-defined]
