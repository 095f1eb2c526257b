"""Strength, life and damage from the command line: their words, their exit codes, and what they refuse."""

import json
from pathlib import Path

import pytest
from typer.testing import CliRunner, Result

from bladewright.cli.commands import app
from bladewright.errors import BadInput, SeveralBadInputs

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
NICK = ("damage", FM31, "nick", "--depth", "0.4 mm", "--station", "0.75R", "--chordwise", "0 %")
VOID = ("damage", FM31, "void", "--along", "40 mm", "--across", "12 mm", "--station", "0.9R")
GAP = ("damage", FM31, "bondline", "--thickness", "0.007 in", "--station", "2 m")
OUTSIDE = "outside: out of service until a named person decides"


def asked(*arguments: str | Path) -> Result:
    return CliRunner().invoke(app, [str(part) for part in arguments])


def test_strength_says_what_governs_and_what_keeps_it_from_a_pass() -> None:
    done = asked("strength", FM31)
    assert done.exit_code == 1, done.output  # brass without bearing values, a film state without a source
    assert "FAIL" not in done.stdout
    for words in (
        "Together: MISSING: no margin is negative",
        "the least first",
        "Governing: ",
        "What would change this",
        "not a substantiation",
        "unvalidated",
    ):
        assert words in done.stdout


def test_the_ten_least_margins_are_shown_and_every_one_when_asked() -> None:
    some, every = asked("strength", FM31).stdout, asked("strength", FM31, "--all").stdout
    assert some.startswith("Together: ")
    assert "more to spare; --all shows them" in some
    assert len(some.splitlines()) < len(every.splitlines())
    for words in ("spar film,", "skin top, buckling"):  # referred, so shown though far down
        assert words in some


def test_strength_for_programs() -> None:
    told = json.loads(asked("strength", FM31, "--json").stdout)
    assert told["outcome"] == "missing"
    assert told["governing"] == told["margins"][0]["rule"]
    assert {"rule", "outcome", "worst", "limit_source"} <= set(told["margins"][0])
    assert "pull-up: pull at the root [N]" in told["figures"]


def test_a_negative_margin_ends_with_one(tmp_path: Path) -> None:
    harder = tmp_path / "harder.toml"
    harder.write_bytes(FM31.read_bytes().replace(b"limit_load_factor = 1.8", b"limit_load_factor = 3.5"))
    done = asked("strength", harder)
    assert done.exit_code == 1
    assert "FAIL" in done.stdout


def test_without_loads_nothing_is_said_to_hold(tmp_path: Path) -> None:
    text = FM31.read_text(encoding="utf-8")
    begin, end = text.index("[loads]"), text.index("[flight_profile]")
    bare = tmp_path / "bare.toml"
    bare.write_text(text[:begin] + text[end:], encoding="utf-8")
    done = asked("strength", bare)
    assert done.exit_code == 1
    assert "the drawing does not say loads" in " ".join(done.stdout.split())
    assert asked("life", bare).exit_code == 1


def test_life_is_an_estimate_on_every_line_that_gives_one() -> None:
    done = asked("life", FM31)
    assert done.exit_code == 0, done.output
    assert "design estimate, not a life limit" in done.stdout
    assert "screening" in done.stdout
    told = json.loads(asked("life", FM31, "--json").stdout)
    assert told["label"] == "design estimate, not a life limit"
    assert all(name.startswith("life") <= ("design estimate" in name) for name in told["figures"])
    assert {one["name"] for one in told["details"]} == {"spar-bolt-hole", "doubler-end"}


@pytest.mark.parametrize("question", [NICK, VOID, GAP])
def test_three_questions_each_answered_by_one_command(question: tuple[str | Path, ...]) -> None:
    done = asked(*question)
    assert done.exit_code == 1, done.output
    for words in (OUTSIDE.upper()[:26], "clean blade", "Who may decide", "What would change this", "limits from"):
        assert words in done.stdout


@pytest.mark.parametrize("question", [NICK, VOID, GAP])
def test_the_same_for_programs(question: tuple[str | Path, ...]) -> None:
    told = json.loads(asked(*question, "--json").stdout)
    assert told["answer"] == OUTSIDE
    assert "margin of safety, clean blade [1]" in told["figures"]
    assert "margin of safety, with the damage [1]" in told["figures"]
    assert told["who may decide"]
    assert told["what would change this"]
    assert told["not told"]


def test_within_the_limit_ends_with_nought() -> None:
    done = asked("damage", FM31, "nick", "--depth", "0.2 mm", "--station", "0.75R", "--chordwise", "3 %")
    assert done.exit_code == 0, done.output
    assert "within the entered limit" in done.stdout


def test_a_zone_without_a_limit_is_out_of_service() -> None:
    done = asked("damage", FM31, "dent", "--depth", "0.1 mm", "--station", "0.4 m", "--chordwise", "50 %")
    assert done.exit_code == 1
    assert "NO LIMIT ENTERED: OUT OF SERVICE" in done.stdout


@pytest.mark.parametrize(
    ("arguments", "field", "allowed"),
    [
        (("nick", "--depth", "0.4 mm", "--station", "4 m"), "station", "0.25 m to 3.55 m, or 0.0704R to 1R"),
        (("nick", "--depth", "0.4 mm", "--station", "75 %"), "station", '"0.75R" or "2.66 m"'),
        (("nick", "--depth", "-0.4 mm", "--station", "0.75R"), "depth", "0 mm or more"),
        (("nick", "--depth", "40 %", "--station", "0.75R"), "depth", 'a length, like "0.032 in" or "0.81 mm"'),
        (("nick", "--depth", "0.4", "--station", "0.75R"), "depth", 'a length, like "0.032 in" or "0.81 mm"'),
        (("nick", "--station", "0.75R"), "depth", 'a length, like "0.4 mm"'),
        (("void", "--along", "40 mm", "--station", "0.9R"), "across", 'a length, like "0.4 mm"'),
        (("dent", "--depth", "1 mm", "--station", "0.9R", "--chordwise", "5 mm"), "chordwise",
         'a fraction, like "25 %" or "0.25"'),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_by_option(arguments: tuple[str, ...], field: str, allowed: str) -> None:
    done = asked("damage", FM31, *arguments)
    assert isinstance(done.exception, BadInput)
    assert done.exception.exit_code == 2
    assert (done.exception.field, done.exception.allowed) == (field, allowed)


def test_a_drawing_that_does_not_go_together_is_refused_by_its_field(tmp_path: Path) -> None:
    wrong = tmp_path / "wrong.toml"
    wrong.write_bytes(FM31.read_bytes().replace(b'share = "52 %"', b'share = "62 %"'))
    done = asked("life", wrong)
    assert isinstance(done.exception, SeveralBadInputs)
    assert [(error.field, error.allowed) for error in done.exception.errors] == [("flight_profile.manoeuvres", "100 %")]
