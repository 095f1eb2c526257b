"""What a change comes to while somebody waits: the numbers of the commands, and no others."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from bladewright.design.compared import compared
from bladewright.design.drawn_answers import HEADLINES, MARGIN, against, answers_with, headlines
from bladewright.design.flutter_margin import flutter_margin
from bladewright.design.handle_force import named_cases
from bladewright.design.handle_range import force_range
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import parse_drawing
from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.figures import Figure

pytestmark = pytest.mark.usefixtures("_thin_sections")
FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()
#: reflex, tip weight, spar place, skin: what is tried first
CHANGES = (
    ("reflex.angle", "2.3 deg"),
    ("tip_weight.mass", "0.95 kg"),
    ("spar.web_place", "27 %"),
    ("skin.top_thickness", "0.027 in"),
)


@pytest.fixture(autouse=True, scope="module")
def _no_answer_of_another_flow_stays() -> Iterator[None]:
    answers_with.cache_clear()
    yield
    answers_with.cache_clear()


@pytest.mark.parametrize("change", [*[(one,) for one in CHANGES], CHANGES])
def test_the_answers_are_those_of_the_command_that_compares_a_change(change: tuple[tuple[str, str], ...]) -> None:
    before, after = answers_with(FM31), answers_with(FM31, change)
    written = parse_drawing(with_values(FM31, dict(change)), "")
    command = compared(parse_drawing(FM31, ""), written)
    wanted = {row.name: (row.old, row.new) for row in (*command.moved, *command.slightly, *command.still)}
    page = against(before, after)
    found = {row.name: (row.old, row.new) for row in (*page.moved, *page.slightly, *page.still)}
    assert {name: pair for name, pair in found.items() if not name.startswith(MARGIN)} == wanted


def test_the_margins_are_those_of_the_command_that_asks_for_flutter() -> None:
    after = answers_with(FM31, CHANGES)
    command = flutter_margin(parse_drawing(with_values(FM31, dict(CHANGES)), ""))
    as_drawn = [finding for finding in command.findings if finding.rule.endswith("as drawn")]
    assert len(as_drawn) == 2
    for finding in as_drawn:
        assert finding in after.findings.values()
        assert finding.worst is not None
        assert any(figure.value == finding.worst.value for name, figure in after.answers.items() if MARGIN in name)


def test_the_hand_is_judged_as_by_the_command_for_the_handle_force() -> None:
    drawing = parse_drawing(FM31, "")
    findings = force_range(drawing).findings
    asked = {case.case for case in named_cases(drawing)}
    wanted = [finding for finding in findings if any(finding.rule.endswith(f", {case}") for case in asked)]
    found = [finding for name, finding in answers_with(FM31).findings.items() if name.startswith("handle force")]
    assert found == wanted


def test_every_headline_is_there_for_the_example_and_says_what_moved() -> None:
    rows = headlines(answers_with(FM31), answers_with(FM31, (("tip_weight.mass", "0.950 kg"),)))
    assert [one.row.name for one in rows] == list(HEADLINES)
    moved = {one.row.name: one.row.difference for one in rows if one.row.difference is not None}
    mass = moved["mass"]
    assert isinstance(mass, Figure)
    assert mass.value == pytest.approx(0.050, rel=0.01)  # 50 g more brass in the same hollow


def test_a_drawing_without_a_rotor_says_what_it_waits_for() -> None:
    bare = FM31[: FM31.index(b"[rotor]")] + FM31[FM31.index(b"[oven]") :]
    found = answers_with(bare)
    assert "mass" in found.answers
    assert MARGIN not in found.answers
    assert any("rotor" in gap.needs for gap in found.missing)


@pytest.mark.parametrize(
    ("field", "text"), [("reflex.angle", "2.3"), ("tip_weight.chordwise", "80 %"), ("skin.top_thickness", "40 mm")]
)
def test_what_cannot_be_built_is_refused_by_its_field(field: str, text: str) -> None:
    with pytest.raises((BadInput, SeveralBadInputs)) as caught:
        answers_with(FM31, ((field, text),))
    errors = caught.value.errors if isinstance(caught.value, SeveralBadInputs) else (caught.value,)
    assert field.split(".")[0] in {(error.field or "").split(".")[0] for error in errors}
