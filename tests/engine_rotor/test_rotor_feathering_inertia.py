"""What a flapping, feathering blade's own mass does about its axis, against Lagrange's equation taken numerically.

Loose point masses, exact kinematics, no small angles. No source needed.
"""

import dataclasses
import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.engine.rotor.disc import cut
from bladewright.engine.rotor.feathering import feathering_moment
from bladewright.engine.rotor.level_flight import steady_flight
from bladewright.engine.rotor.rotor import STANDARD, Setting
from bladewright.engine.rotor.span_mass import SpanMass
from tests.engine_rotor.training_rotor import SPEED, flight, teetering

MASSES = ((2.0, -0.02, 0.004), (2.5, 0.03, -0.002), (0.5, 0.08, 0.0))  # [kg/m], aft [m], above [m]
Y = np.linspace(0.3, 3.5, 33)
STEEPEST = 0.04  # [rad] of flapping tried
PSI = 2.0 * math.pi * np.arange(36) / 36


def body() -> SpanMass:
    m, x, z = np.array(MASSES).T
    rows = (m, m * x / m.sum(), m * z / m.sum(), m * x * x, m * z * z, m * x * z)
    return SpanMass(Y, *(np.full_like(Y, row.sum()) for row in rows))


def kinetic(pitch: np.ndarray, pitch_rate: np.ndarray, flap: np.ndarray, flap_rate: np.ndarray) -> np.ndarray:
    """Of the whole blade at every azimuth: pitch (p, y), the others (p, 1)."""
    energy = np.zeros_like(pitch)
    sine, cosine = np.sin(flap), np.cos(flap)
    for m, x, z in MASSES:
        aft, above = x * np.cos(pitch) + z * np.sin(pitch), z * np.cos(pitch) - x * np.sin(pitch)
        aft_rate, above_rate = above * pitch_rate, -aft * pitch_rate
        out = Y * cosine - above * sine
        out_rate = -(Y * sine + above * cosine) * flap_rate - above_rate * sine
        up_rate = (Y * cosine - above * sine) * flap_rate + above_rate * cosine
        energy += 0.5 * m * ((out_rate + SPEED * aft) ** 2 + (aft_rate - SPEED * out) ** 2 + up_rate**2)
    whole: np.ndarray = np.trapezoid(energy, Y, axis=1)
    return whole


def by_lagrange(setting: Setting, twist: np.ndarray) -> np.ndarray:
    """``-(d/dt dT/dp' - dT/dp)``."""

    def wave(c: float, s: float) -> tuple[np.ndarray, np.ndarray]:
        value = c * np.cos(PSI) + s * np.sin(PSI)
        return value[:, None], SPEED * (s * np.cos(PSI) - c * np.sin(PSI))[:, None]

    turned, pitch_rate = wave(setting.cosine_pitch, setting.sine_pitch)
    moved, flap_rate = wave(setting.cosine_flap, setting.sine_flap)
    pitch, flap, h = setting.collective + turned + twist, setting.coning + moved, 1e-4
    momentum = (kinetic(pitch, pitch_rate + h, flap, flap_rate) - kinetic(pitch, pitch_rate - h, flap, flap_rate)) / (
        2 * h
    )
    pull = (kinetic(pitch + h, pitch_rate, flap, flap_rate) - kinetic(pitch - h, pitch_rate, flap, flap_rate)) / (2 * h)
    orders = np.fft.rfftfreq(36, 1.0 / 36)
    return pull - SPEED * np.fft.irfft(1j * orders * np.fft.rfft(momentum), 36)


@settings(max_examples=20, deadline=None)
@given(st.floats(0.0, 0.2), *(st.floats(-0.06, 0.06) for _ in range(2)), *(st.floats(-0.04, 0.04) for _ in range(3)))
def test_inertia_about_the_feathering_axis(
    collective: float, cosine: float, sine: float, coning: float, aft: float, side: float
) -> None:
    rotor = teetering(hub="hinged", mass=body())
    nothing = dict.fromkeys((one.name for one in dataclasses.fields(Setting)), 0.0)
    greatest = SPEED**2 * STEEPEST * float(np.trapezoid(Y, Y)) * sum(abs(m * x) for m, x, _ in MASSES)
    for share in (1.0, 0.25):
        angles = {"collective": collective, "cosine_pitch": cosine, "sine_pitch": sine, "coning": coning,
                  "cosine_flap": aft, "sine_flap": side}  # fmt: skip
        scaled = {name: share * angle for name, angle in angles.items()}
        setting = Setting(**nothing | scaled | {"rotor_speed": SPEED, "induced": 7.0})
        found = feathering_moment(steady_flight(cut(rotor, flight(20.0), STANDARD), setting))
        ours = found.propeller_moment + found.pitch_inertia + found.tilt_offset
        theirs = by_lagrange(setting, np.interp(Y, rotor.blade.y, rotor.blade.twist))
        # products of two rates and of three angles are left out: what is off falls with the square at least
        assert ours == pytest.approx(theirs, abs=0.03 * greatest * share**2)
