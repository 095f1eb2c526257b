"""The section's table as the rotor gets it: reflex, spread, reading between whole degrees, and the fallback."""

import math
from pathlib import Path

import numpy as np
import pytest

from bladewright.design import section_flow as room
from bladewright.design.reflex_bend import with_reflex
from bladewright.design.section_flow import SectionFlow, section_flow, tabled_flow, thin_flow
from bladewright.design.section_tables import STEP, _table, section_table
from bladewright.design.section_theories import USUAL_LIFT, mean_line_theory, outline_theory
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.flow.polar import Polar
from bladewright.errors import NotConverged

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
PER_MACH = 4.65e6  # Reynolds over Mach number of a chord of 0.2 m at sea level
STEPS = round(math.log(PER_MACH) / math.log(STEP))


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


@pytest.fixture(scope="module")
def flows(drawing: BladeDrawing) -> dict[float, SectionFlow]:
    return {degrees: tabled_flow(with_reflex(drawing, math.radians(degrees))) for degrees in (0.0, 2.0, 4.0)}


def test_reflex_does_some_ten_to_thirty_per_cent_less_than_its_mean_line(flows: dict[float, SectionFlow]) -> None:
    # common practice, no source: a boundary layer takes that off; Glauert 1927 for the mean line
    for low, high in ((0.0, 2.0), (2.0, 4.0)):
        with_layer = flows[high].moment - flows[low].moment
        assert 0.6 < with_layer / (0.5 * 0.54 * math.radians(2.0)) < 0.95


def test_the_lift_slope_is_that_of_a_section_in_its_own_mach_number(flows: dict[float, SectionFlow]) -> None:
    # 0.10 to 0.11 per degree at low speed over the root of 1 - M^2 (Glauert 1928): 0.41 is the Mach number at 0.75 R
    for flow in flows.values():
        assert flow.mach == pytest.approx(0.41)
        still = math.radians(flow.lift_slope) * math.sqrt(1.0 - flow.mach**2)
        assert 0.095 < still < 0.120


def test_the_spread_is_the_greatest_difference_to_theories_that_know_less(
    drawing: BladeDrawing, flows: dict[float, SectionFlow]
) -> None:
    flow = flows[2.0]
    theories = [theory(drawing.section, drawing.reflex) for theory in (mean_line_theory, outline_theory)]
    assert flow.moment_spread == pytest.approx(max(abs(flow.moment - theory.moment) for theory in theories))
    assert flow.moment == pytest.approx(flow.moment_at(USUAL_LIFT), abs=1e-4)
    assert flow.moment_at(3.0) is None


def test_between_even_degrees_the_table_is_read_by_a_parabola_that_meets_one_worked_out(drawing: BladeDrawing) -> None:
    bend = room._in_the_air(drawing.reflex)
    assert bend is not None

    def table(degrees: float) -> Polar:
        return section_table(drawing.section, bend.model_copy(update={"angle": math.radians(degrees)}), PER_MACH)

    known, read = [table(degrees) for degrees in (0.0, 2.0, 4.0)], table(2.8)
    shares = (0.5 * 0.4 * -0.6, 1.0 - 0.16, 0.5 * 0.4 * 1.4)
    finite = np.isfinite(read.moment)
    by_hand = sum(share * one.moment for share, one in zip(shares, known, strict=True))
    assert np.allclose(read.moment[finite], by_hand[finite], atol=1e-12)
    assert np.array_equal(read.computed, np.all([one.computed for one in known], axis=0))
    worked_out = _table(drawing.section, bend.model_copy(update={"angle": math.radians(2.8)}), STEPS)
    both = read.computed & worked_out.computed
    off = np.abs(read.moment - worked_out.moment)[both]
    assert np.median(off) < 2e-4
    assert np.quantile(off, 0.9) < 1.5e-3  # where transition jumps from one angle to the next the layer is not smooth


def test_the_same_section_is_the_same_object(drawing: BladeDrawing) -> None:
    assert section_flow(drawing) is section_flow(read_drawing(FM31))


def test_where_the_layer_has_no_solution_the_mean_line_answers_and_says_so(
    drawing: BladeDrawing, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fails(*_: object) -> None:
        raise NotConverged("no solution")

    monkeypatch.setattr(room, "tabled_flow", fails)
    flow = section_flow(drawing)
    assert flow.moment == thin_flow(drawing).moment
    assert not flow.tabled
    assert not flow.inside
    assert flow.validity.startswith("NO SOLUTION")
    assert flow.moment_spread is None
    assert all("thin-section theory" in figure.method for figure in flow.figures)
