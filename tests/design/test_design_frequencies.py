"""Modes of the drawn blade: what must hold of any blade, and how near a harmonic is judged."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.fan_charts import fan_charts
from bladewright.design.frequencies import USUAL_SOURCE, Frequencies, amplification, frequencies
from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing
from bladewright.figures import Outcome

FM31 = (Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml").read_bytes()


def fm31(changes: dict[str, str | float | bool] | None = None) -> BladeDrawing:
    return parse_drawing(with_values(FM31, changes or {}), "fm31.toml")


@pytest.fixture(scope="module")
def found() -> Frequencies:
    return frequencies(fm31())


def at_normal(found: Frequencies, words: str) -> float:
    return next(figure.value for figure in found.figures if figure.name.startswith(words))


@pytest.mark.outside
def test_a_teetering_pair_tilts_exactly_once_per_rev(found: Frequencies) -> None:
    # a stiff blade hinged at the axis swings once per rev whatever its mass: any text on rotors
    assert at_normal(found, "first flap, blades in turn") == pytest.approx(500.0 / 60.0, rel=1e-3)


def test_every_mode_rises_or_stays_with_rotor_speed_in_flap(found: Frequencies) -> None:
    for fan in found.fans:
        flap = fan.frequencies[:, fan.names.index("first flap")]
        assert np.all(np.diff(flap) > 0.0)


def test_a_stiffer_control_run_raises_torsion_and_leaves_chordwise(found: Frequencies) -> None:
    soft, stiff = (at_normal(found, f"first torsion, all blades alike, {run} control run") for run in ("soft", "stiff"))
    assert stiff > 1.3 * soft
    soft, stiff = (at_normal(found, f"first chordwise, all blades alike, {run} control") for run in ("soft", "stiff"))
    assert stiff == pytest.approx(soft, rel=0.01)


def test_two_blades_on_one_hub_feel_even_harmonics_alike_and_odd_ones_in_turn(found: Frequencies) -> None:
    assert found.harmonics == {"collective": (2, 4, 6, 8), "cyclic": (1, 3, 5, 7)}


def test_inside_the_margin_is_refer_and_outside_it_pass(found: Frequencies) -> None:
    for approach, finding in zip(found.nearest, found.findings, strict=True):
        assert finding.outcome is (Outcome.REFER if approach.gap < 0.10 else Outcome.PASS)
        assert finding.worst is not None
        assert finding.worst.value == pytest.approx(100.0 * approach.gap)
        assert not finding.deviable
        assert finding.limit == "at least 10 % from a harmonic"
    assert Outcome.PASS in {finding.outcome for finding in found.findings}


def test_a_narrower_margin_refers_fewer_and_every_mode_of_both_patterns_is_judged(found: Frequencies) -> None:
    narrow = frequencies(fm31({"rotor.frequency_margin": "3 %"}))
    count = [sum(one.outcome is Outcome.REFER for one in which.findings) for which in (narrow, found)]
    assert count[0] < count[1]
    assert len({(a.pattern, a.mode) for a in found.nearest}) == 14
    assert len(found.findings) == len({finding.rule for finding in found.findings})


def test_without_an_entered_margin_it_is_the_usual_ten_percent_and_said_so() -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    bare = frequencies(
        drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={"frequency_margin": None})})
    )
    assert bare.margin == 0.10
    assert {finding.limit_source for finding in bare.findings} == {USUAL_SOURCE}


@pytest.mark.parametrize(
    ("table", "entry"), [("speeds", "power_off_greatest"), ("control", "stiffness_low"), ("speeds", "power_on_least")]
)
def test_an_entry_that_is_not_there_leaves_it_unjudged_and_named(table: str, entry: str) -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    inner = getattr(drawing.rotor, table).model_copy(update={entry: None})
    bare = frequencies(drawing.model_copy(update={"rotor": drawing.rotor.model_copy(update={table: inner})}))
    assert bare.findings == ()
    assert [gap.needs for gap in bare.missing] == [(f"rotor.{table}.{entry}",)]


def test_a_material_without_a_modulus_is_named() -> None:
    drawing = fm31()
    film = drawing.materials["film-epoxy"].model_copy(update={"shear_modulus": None})
    bare = frequencies(drawing.model_copy(update={"materials": drawing.materials | {"film-epoxy": film}}))
    assert bare.findings == ()
    assert bare.missing


@pytest.mark.outside
def test_a_mode_that_meets_its_harmonic_answers_by_one_over_twice_its_damping(found: Frequencies) -> None:
    # 1/(2 z) at resonance; any text on vibration
    met = next(approach for approach in found.nearest if approach.gap == 0.0)
    assert amplification(met, 0.01) == pytest.approx(50.0, rel=1e-3)
    far = next(approach for approach in found.nearest if approach.gap > 0.4)
    assert amplification(far, 0.01) < 3.0


def test_without_damping_the_response_is_named_as_missing_and_modes_are_judged_all_the_same() -> None:
    drawing = fm31()
    assert drawing.rotor is not None
    rotor = drawing.rotor.model_copy(update={"structural_damping": None})
    bare = frequencies(drawing.model_copy(update={"rotor": rotor}))
    assert [gap.needs for gap in bare.missing] == [("rotor.structural_damping",)]
    assert len(bare.findings) >= 12


def test_the_fan_plot_shades_both_ranges_and_marks_what_is_too_near(found: Frequencies) -> None:
    charts = fan_charts(found)
    assert [chart.name for chart in charts] == ["fan-collective", "fan-cyclic"]
    for chart in charts:
        assert [(one.words, round(one.least), round(one.greatest)) for one in chart.reaches] == [
            ("power off", 450, 540),
            ("power on", 485, 510),
        ]
        rays = [curve for curve in chart.curves if curve.beside]
        assert len(rays) == 4
        (marks,) = [curve for curve in chart.curves if curve.points]
        assert all(450.0 - 1e-9 <= x <= 540.0 + 1e-9 for x in marks.x)
    assert fan_charts(frequencies(fm31().model_copy(update={"rotor": None}))) == ()
