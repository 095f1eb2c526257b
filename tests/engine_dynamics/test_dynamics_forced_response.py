"""Swinging loads: closed forms of one mode, quasi-static limits, energy put in and taken out."""

import numpy as np
import pytest

from bladewright.engine.dynamics.blade_beam import Root
from bladewright.engine.dynamics.forced_response import Damping, SwingingLoads, forced_response
from bladewright.engine.dynamics.held_shape import held_shape
from bladewright.errors import BadInput, OutsideValidity
from tests.engine_dynamics.plain_beam import likely_blade, plain_beam

HELD = Root("clamped", np.inf)


def loads(lift: np.ndarray, moment: float = 0.0) -> SwingingLoads:
    lift = lift.astype(complex)
    return SwingingLoads(lift, 0.0 * lift, 0.0 * lift + moment)


def test_a_hinged_stiff_blade_answers_as_one_mass_on_a_spring() -> None:
    """``b = M / (I (W**2 - n**2 W**2 + i n W c))`` with the air's damping c; closed form."""
    beam = plain_beam(length=3.0, flapwise=1e9, chordwise=1e9, torsion=1e9)
    inertia, speed, air = 9.0, 20.0, 0.7
    damping = Damping(flap=np.full(2, air))
    for harmonic in (1, 2, 3):
        found = forced_response(beam, Root("hinged", np.inf), "cyclic", speed, harmonic, loads(np.ones(2)), damping)
        moment, resistance = 4.5, air * 9.0
        lift_per_angle = inertia * speed**2 * (1.0 - harmonic**2) + 1j * harmonic * speed * resistance
        assert found.flap[-1] / 3.0 == pytest.approx(moment / lift_per_angle, rel=1e-6)


def test_structural_damping_is_what_was_stated() -> None:
    """At the first torsion mode of a uniform beam, ``1 / (2 z)`` or ``1 / g`` times the static share of that mode."""
    beam = plain_beam(flapwise=1e7, chordwise=1e7, chordwise_inertia=0.01, normal_inertia=0.01, torsion=4.0)
    first = 0.5 * np.pi * np.sqrt(4.0 / 0.02)
    share = 2.0 * (2.0 / np.pi) / (first**2 * 0.02)  # of a unit moment per length, at the tip of the first mode
    for damping, rise in ((Damping(fraction_of_critical=1e-4), 5000.0), (Damping(loss_factor=2e-4), 5000.0)):
        found = forced_response(beam, HELD, "collective", first, 1, loads(np.zeros(2), 1.0), damping)
        assert abs(found.torsion[-1]) == pytest.approx(share * rise, rel=1e-3)
        assert np.angle(found.torsion[-1]) == pytest.approx(-0.5 * np.pi, abs=1e-3)


def test_a_stiff_blade_follows_a_slow_load_as_if_it_stood() -> None:
    beam = plain_beam(flapwise=1e7, chordwise=1e7, torsion=1e7, mass_per_length=1e-3)
    load = np.array([1.0, 2.0])
    swinging = forced_response(beam, HELD, "collective", 0.1, 1, loads(load), Damping())
    still = held_shape(beam, HELD, "collective", 0.1, load, 0.0 * load, 0.0 * load)
    assert swinging.flap.real == pytest.approx(still.flap, rel=1e-6)
    assert swinging.flap_moment.real[0] == pytest.approx(still.flap_moment[0], rel=1e-6)


def test_what_the_load_puts_in_the_damping_takes_out() -> None:
    """Work per turn of the load is that of the air's damping, and of nothing else."""
    blade, root = likely_blade(), Root("teetering", 500.0)
    lift = 100.0 * (blade.y / 3.0) ** 2
    air = 5.0 * blade.y / 3.0
    found = forced_response(blade, root, "cyclic", 58.0, 3, loads(lift), Damping(flap=air), 0.1)
    put_in = np.trapezoid(lift * -found.flap.imag, blade.y)
    taken = 3.0 * 58.0 * np.trapezoid(air * np.abs(found.flap) ** 2, blade.y)
    assert put_in == pytest.approx(taken, rel=2e-3)  # trapezia between 41 stations


def test_inner_moments_carry_load_and_inertia_outboard() -> None:
    """Newton's sum at rest in the disc's axes: ``M(0) = integral of (q + w**2 m w) y - pull times rise``."""
    beam = plain_beam(length=2.0, stations=81, flapwise=3.0)
    y = beam.y
    found = forced_response(beam, HELD, "collective", 4.0, 2, loads(1.0 + y), Damping(fraction_of_critical=0.0))
    outboard = (1.0 + y + found.frequency**2 * found.flap) * y - 16.0 * y * found.flap
    weights = np.full(81, 2.0 / 80.0) * np.where(np.arange(81) % 2, 4.0, 2.0) / 3.0  # Simpson's
    weights[[0, -1]] /= 2.0
    assert found.flap_moment[0] == pytest.approx(complex(weights @ outboard), rel=1e-6)


def test_a_control_run_feels_its_spring() -> None:
    beam = plain_beam(chordwise_inertia=0.006, flapwise=1e6, chordwise=1e6, torsion=1e9)
    found = forced_response(beam, Root("clamped", 500.0), "collective", 1.0, 1, loads(np.zeros(2), 2.0), Damping())
    assert found.control_moment == pytest.approx(2.0 * 500.0 / (500.0 + 0.006 - 0.006), rel=1e-4)


def test_a_free_resonance_and_nonsense_are_refused() -> None:
    beam = plain_beam()
    speed = 20.0
    with pytest.raises(OutsideValidity) as refused:  # a flapping hinge on the axis rings once a revolution
        forced_response(beam, Root("hinged", np.inf), "cyclic", speed, 1, loads(np.ones(2)), Damping())
    assert refused.value.field == "damping"
    for changed, field in (
        ({"rotor_speed": 0.0}, "rotor_speed"),
        ({"harmonic": 0}, "harmonic"),
        ({"damping": Damping(loss_factor=-0.1)}, "loss_factor"),
        ({"damping": Damping(flap=np.array([1.0, -1.0]))}, "flap"),
        ({"loads": loads(np.ones(3))}, "lift"),
    ):
        asked = {"rotor_speed": speed, "harmonic": 1, "loads": loads(np.ones(2)), "damping": Damping()} | changed
        with pytest.raises(BadInput) as caught:
            forced_response(beam, HELD, "collective", **asked)  # type: ignore[arg-type]
        assert caught.value.field == field
