"""The run card: its checks, its times, and the paper it becomes."""

import datetime
import io
from collections.abc import Callable
from dataclasses import replace

import pypdf
import pytest

from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Outcome
from bladewright.making.cure_plan import CurePlan
from bladewright.making.run_card import RunCard, run_card
from bladewright.papers.run_card import RunCardPaper, run_card_pdf

AT = datetime.datetime(2026, 3, 20, 7, tzinfo=datetime.UTC)


@pytest.fixture(scope="module")
def card(fm31: BladeDrawing, plan: CurePlan) -> RunCard:
    return run_card(fm31, plan)


def test_everything_is_checked_before_heat_and_pressure_comes_last(card: RunCard) -> None:
    named = [check.what for check in card.before]
    assert named[:3] == ["bladder leak test", "relief valve", "sensors"]
    assert "clean mould" in named
    assert named[-1] == "pressure on"
    assert "35 psi and 50 psi" in card.before[-1].how


def test_the_times_are_in_order_and_the_set_points_are_exact(card: RunCard) -> None:
    times = {figure.name: figure for figure in card.expected}
    assert [figure.unit for figure in card.expected] == ["min"] * 4
    assert times["set point reaches the target"].value < times["set point begins to fall"].value
    release = times["all mould sensors below release; pressure may come off"]
    assert release.value > times["set point begins to fall"].value
    assert release.uncertainty
    assert {figure.uncertainty for figure in card.set_points} == {0.0}
    # up from the room at the ramp: closed form
    rise = (250.0 - 70.0) / next(f.value for f in card.set_points if f.name == "ramp")
    assert times["set point reaches the target"].value == pytest.approx(rise, rel=1e-9)


def test_lost_pressure_says_that_no_second_dwell_helps(card: RunCard) -> None:
    told = {item.happens: item.do for item in card.otherwise}
    assert "No second dwell" in told["Pressure falls before the slowest zone has gelled"]
    assert "heat without end" in told["A mould sensor gives nothing or freezes"]


def test_a_plan_that_keeps_not_every_limit_is_not_to_be_run(fm31: BladeDrawing, plan: CurePlan) -> None:
    failed = replace(plan.findings[0], outcome=Outcome.FAIL)
    told = run_card(fm31, replace(plan, findings=(failed, *plan.findings[1:]))).told
    assert told.endswith("Do not run this.")


def test_the_paper_is_the_same_every_time_and_reads_as_the_card(card: RunCard) -> None:
    paper = RunCardPaper(card, "training helicopter", "ab" * 32, "0.1", AT, demo=True)
    made = run_card_pdf(paper)
    assert made == run_card_pdf(paper)
    text = " ".join("".join(page.extract_text() for page in pypdf.PdfReader(io.BytesIO(made)).pages).split())
    expected = (
        "Run card FM-31", "bladder leak test", "relief valve", "INVENTED DATA", "not an airworthiness release",
        "commands no heater", "adhesive.kinetics: no source",
    )  # fmt: skip
    for words in expected:
        assert words in text


def test_letters_of_the_drawing_are_text_and_never_markup(
    changed: Callable[[dict[str, str]], BladeDrawing], plan: CurePlan
) -> None:
    drawing = changed({"name": "#panic[x] $ \\ *"})
    made = run_card_pdf(RunCardPaper(run_card(drawing, plan), "#eval", "", "0.1", AT))
    assert made.startswith(b"%PDF-")
