"""What a finished log says of the film: a whole one, one with a lost zone, and one whose pressure came late."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.errors import MissingInput
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description
from bladewright.evidence.records import CureLog
from bladewright.figures import Outcome
from bladewright.proof.cure_cost import CureCost
from bladewright.proof.cure_course import cost_of_log
from examples.fennmark.evidence import Evidence, write_evidence

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
SOURCED = {"adhesive.kinetics.source": "invented for this test"}


@pytest.fixture(scope="module")
def floor(tmp_path_factory: pytest.TempPathFactory) -> Evidence:
    return write_evidence(tmp_path_factory.mktemp("floor"))


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return parse_drawing(with_values(FM31.read_bytes(), SOURCED), FM31.name)


def log_of(floor: Evidence, serial: str) -> CureLog:
    (blade,) = (blade for blade in floor.blades if blade.serial == serial)
    return read_cure_log(blade.cure, read_logger_description(floor.logger))


@pytest.fixture(scope="module")
def good(floor: Evidence) -> CureLog:
    return log_of(floor, "FM31-0107")


@pytest.fixture(scope="module")
def lost(floor: Evidence, drawing: BladeDrawing) -> CureCost:
    return cost_of_log(drawing, log_of(floor, "FM31-0108"))


def test_a_whole_log_on_sourced_data_passes_on_heat_alone(good: CureLog, drawing: BladeDrawing) -> None:
    found = cost_of_log(drawing, good)
    assert [finding.outcome for finding in found.findings] == [Outcome.PASS]
    assert "every zone was read" in found.happened


def test_on_unsourced_data_even_a_whole_log_is_referred(good: CureLog) -> None:
    found = cost_of_log(parse_drawing(FM31.read_bytes(), FM31.name), good)
    assert found.findings[0].outcome is Outcome.REFER
    assert not found.places[0].lowest.validated


def test_a_lost_zone_counts_as_dead_and_its_heater_only_raises_the_upper_end(
    lost: CureCost, good: CureLog, drawing: BladeDrawing
) -> None:
    assert "zone 4 was not read" in lost.happened
    whole = cost_of_log(drawing, good)
    four, other = lost.places[3], whole.places[3]
    assert four.lowest.value < other.lowest.value - 1.0
    assert four.highest.value == pytest.approx(other.highest.value, abs=0.5)
    assert lost.findings[0].outcome is not Outcome.PASS
    assert "second sensor in that zone" in lost.settles[0]


def test_a_second_loss_never_raises_the_lowest(floor: Evidence, lost: CureCost, drawing: BladeDrawing) -> None:
    log = log_of(floor, "FM31-0108")
    worse = log.values.copy()
    worse[100:, 4] = np.nan
    found = cost_of_log(drawing, replace(log, values=worse))
    assert all(b.lowest.value <= a.lowest.value for a, b in zip(lost.places, found.places, strict=True))


def test_hotter_readings_never_lower_the_degree_of_cure(good: CureLog, drawing: BladeDrawing) -> None:
    warm = good.values.copy()
    warm[:, :12] += 2.0
    plain, raised = cost_of_log(drawing, good), cost_of_log(drawing, replace(good, values=warm))
    assert all(b.lowest.value > a.lowest.value for a, b in zip(plain.places, raised.places, strict=True))


def pressed(log: CureLog, first: int, last: int) -> CureLog:
    """The same log with no pressure in some rows."""
    values = log.values.copy()
    values[first:last, 12] = 0.0
    return replace(log, values=values)


def test_pressure_that_came_late_is_a_wetting_fault(good: CureLog, drawing: BladeDrawing) -> None:
    late = cost_of_log(drawing, pressed(good, 0, 40))
    wet = late.findings[1]
    assert (wet.rule, wet.outcome) == ("cure cost: wetting", Outcome.FAIL)
    assert "came on" in wet.sentence
    assert late.told.startswith("Not settled")


@pytest.mark.parametrize(("row", "outcome"), [(45, Outcome.FAIL), (115, Outcome.REFER)])
def test_lost_pressure_is_held_to_the_gel_of_the_slowest_film(
    good: CureLog, drawing: BladeDrawing, row: int, outcome: Outcome
) -> None:
    found = cost_of_log(drawing, pressed(good, row, len(good.seconds)))
    assert next(f for f in found.findings if f.rule.endswith("wetting")).outcome is outcome


def test_a_zone_nobody_logged_is_asked_for(good: CureLog, drawing: BladeDrawing) -> None:
    few = replace(good, channels=(*good.channels[1:], good.channels[0]), values=np.roll(good.values, -1, axis=1))
    few = replace(few, channels=few.channels[:-1], values=few.values[:, :-1])
    with pytest.raises(MissingInput) as missing:
        cost_of_log(drawing, few)
    assert (missing.value.field, missing.value.value) == ("columns.zone", "1")


def test_a_log_without_pressure_leaves_the_wetting_unknown(good: CureLog, drawing: BladeDrawing) -> None:
    bare = replace(good, channels=good.channels[:12], values=good.values[:, :12])
    wet = cost_of_log(drawing, bare).findings[1]
    assert (wet.rule, wet.outcome, wet.deviable) == ("cure cost: wetting", Outcome.MISSING, False)


def test_a_log_that_begins_with_nothing_is_refused(good: CureLog, drawing: BladeDrawing) -> None:
    values = good.values.copy()
    values[0, :6] = np.nan
    with pytest.raises(MissingInput) as nothing:
        cost_of_log(drawing, replace(good, values=values))
    assert (nothing.value.field, nothing.value.row) == ("mould", 4)


def test_any_readings_give_an_answer_in_order_or_a_refusal(good: CureLog, drawing: BladeDrawing) -> None:
    generator = np.random.default_rng(8)
    for _ in range(6):
        values = good.values.copy()
        torn = generator.random(values.shape) < generator.choice([0.01, 0.3, 0.9])
        torn[0] = False
        values[torn] = np.nan
        found = cost_of_log(drawing, replace(good, values=values))
        for place in found.places:
            assert 0.0 <= place.lowest.value <= place.middle.value <= 100.0
            assert place.lowest.value <= place.highest.value
        assert found.findings[0].outcome is not Outcome.PASS
