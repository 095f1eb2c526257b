"""What programs get: JSON whose every number has its unit in its key, and an exit code that says yes or no."""

import json
import re
from pathlib import Path

import pytest
import typer
from typer.testing import CliRunner, Result

from bladewright.cli.commands import app
from bladewright.selfcheck.running import all_cases

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
UNIT = re.compile(r"\[[^\]]+\]$")
#: numbers without a unit of their own: counts, and those whose figure's key carries the unit
PLAIN = ("value", "uncertainty", "row", "number", "events", "rows", "files")


def asked(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(part) for part in arguments])


def bare_numbers(answer: object, key: str = "") -> list[str]:
    """Keys of numbers that say neither their unit nor that they have none."""
    if isinstance(answer, dict):
        return [bad for name, item in answer.items() for bad in bare_numbers(item, str(name))]
    if isinstance(answer, list):
        return [bad for item in answer for bad in bare_numbers(item, key)]
    is_number = isinstance(answer, (int, float)) and not isinstance(answer, bool)
    return [key] if is_number and key not in PLAIN and not UNIT.search(key) else []


@pytest.mark.parametrize(
    "arguments",
    [
        ("check-drawing", FM31),
        ("properties", FM31, "--at", "2.5 m"),
        ("handle-force", FM31),
        ("as-built", FM31, "reflex.angle = 2.31 deg +/- 0.05 deg"),
        ("compare-change", FM31, "reflex.angle=2.3 deg"),
        ("sensitivities", FM31),
        ("size-reflex", FM31, "--handle-force", "2 lbf"),
    ],
)
def test_every_number_says_its_unit(arguments: tuple[str | Path, ...]) -> None:
    done = asked(*arguments, "--json")
    assert done.exit_code == 0, done.output
    answer = json.loads(done.stdout)
    assert answer
    assert bare_numbers(answer) == []


def test_selfcheck_says_source_quantity_and_band_of_every_case() -> None:
    done = asked("selfcheck", "--json")
    assert done.exit_code == 0
    cases = json.loads(done.stdout)
    assert len(cases) > 100
    for case in cases:
        assert set(case) == {"source", "quantity", "ours", "published", "difference", "band", "holds"}
        assert UNIT.search(case["quantity"]), case["quantity"]
        assert case["holds"] is (abs(case["difference"]) <= case["band"])
    missed = {case["quantity"] for case in cases if not case["holds"]}
    assert missed == {case.quantity for case in all_cases() if case.disagrees}  # told, not left out


def test_every_command_shows_an_example_and_speaks_json() -> None:
    for name, command in typer.main.get_group(app).commands.items():
        assert command.help is not None
        assert f"bladewright {name} " in command.help or f"**bladewright {name}**" in command.help, name
        speaks = "json" in {parameter.name for parameter in command.params}
        assert speaks != (name == "desk"), name  # the desk answers programs at an address of its own
