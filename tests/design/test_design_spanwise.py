"""Mass along the span: sums by hand, steps that keep their mass, and what the rotor adds."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.spanwise import mass_gaps, span_mass, span_stations, spanwise
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.errors import MissingInput

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def without(drawing: BladeDrawing, *parts: str) -> BladeDrawing:
    return drawing.model_copy(update=dict.fromkeys(parts))


def test_a_tip_weight_adds_its_own_mass_and_moments(drawing: BladeDrawing) -> None:
    whole, less = spanwise(drawing), spanwise(without(drawing, "tip_weight"))
    # 0.900 kg evenly from 3.25 to 3.51 m; centre 3.38 m; second moment m (r^2 + l^2 / 12)
    assert whole.total_mass - less.total_mass == pytest.approx(0.900, rel=1e-6)
    assert whole.span_moment - less.span_moment == pytest.approx(0.900 * 3.38, rel=1e-6)
    assert whole.flap_inertia - less.flap_inertia == pytest.approx(0.900 * (3.38**2 + 0.26**2 / 12.0), rel=3e-5)
    # its centre lies at 17 % of 200 mm: 16 mm ahead of the feathering axis
    first = whole.total_mass * whole.chordwise_centre - less.total_mass * less.chordwise_centre
    assert first == pytest.approx(0.900 * -0.016, rel=1e-6)


def test_a_blade_of_one_section_is_its_length_times_the_section(drawing: BladeDrawing) -> None:
    bare = spanwise(without(drawing, "tip_weight", "doubler"))
    per_length = float(bare.mass.mass_per_length[0])
    assert np.ptp(bare.mass.mass_per_length) == pytest.approx(0.0, abs=1e-12)
    assert bare.total_mass == pytest.approx(3.3 * per_length, rel=1e-12)
    assert bare.span_moment == pytest.approx(per_length * (3.55**2 - 0.25**2) / 2.0, rel=1e-12)
    # trapezoid over 101 stations: high by length^3 / (12 n^2) of a unit
    assert bare.flap_inertia == pytest.approx(per_length * (3.55**3 - 0.25**3) / 3.0, rel=5e-5)


def test_pull_along_the_span_falls_to_nothing_at_the_tip(drawing: BladeDrawing) -> None:
    blade = spanwise(drawing)
    pull = blade.centrifugal_force(500.0 * np.pi / 30.0)
    assert pull[0] == pytest.approx((500.0 * np.pi / 30.0) ** 2 * blade.span_moment, rel=1e-12)
    assert pull[-1] == 0.0
    assert np.all(np.diff(pull) < 0.0)
    assert blade.centrifugal_force(1000.0 * np.pi / 30.0) == pytest.approx(4.0 * pull)


def test_inertia_about_the_axis_contains_the_offset_of_the_centre(drawing: BladeDrawing) -> None:
    mass = spanwise(drawing).mass
    assert np.all(mass.chordwise_inertia > mass.mass_per_length * mass.chordwise_centre**2)
    assert np.all(mass.normal_inertia > mass.mass_per_length * mass.normal_centre**2)
    own_x = mass.chordwise_inertia - mass.mass_per_length * mass.chordwise_centre**2
    own_z = mass.normal_inertia - mass.mass_per_length * mass.normal_centre**2
    own_xz = mass.product_of_inertia - mass.mass_per_length * mass.chordwise_centre * mass.normal_centre
    assert np.all(own_xz**2 < own_x * own_z)  # a positive matrix, as of any real body


def test_stations_stand_on_both_sides_of_every_step(drawing: BladeDrawing) -> None:
    y = span_stations(drawing)
    assert (y[0], y[-1]) == (0.25, 3.55)
    assert np.all(np.diff(y) > 0.0)
    for edge in (0.62, 3.25, 3.51):
        assert np.sum(np.abs(y - edge) < 1e-6) == 2


def test_twist_and_chord_follow_the_drawing(drawing: BladeDrawing) -> None:
    blade = spanwise(drawing)
    assert blade.chord == pytest.approx(0.2)
    assert np.degrees(np.interp(1.9, blade.y, blade.twist)) == pytest.approx(0.8)


def test_without_a_spar_nothing_is_known(drawing: BladeDrawing) -> None:
    bare = without(drawing, "spar")
    assert span_mass(bare) is None
    assert mass_gaps(bare)[0].needs == ("spar",)
    assert mass_gaps(drawing) == ()
    with pytest.raises(MissingInput) as caught:
        spanwise(bare)
    assert caught.value.field == "spar"
