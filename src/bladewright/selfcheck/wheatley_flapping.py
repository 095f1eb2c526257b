"""Inflow and flapping in forward flight of a rigid blade hinged at the axis, against linear theory.

Linear theory has small angles: ours are run at a hundredth of the case's pitch and inflow and scaled back. Gravity is
taken out by turning a hundred times as fast.
"""

import math
from functools import cache, partial

import numpy as np

from bladewright.engine.flow.polar import straight_polar
from bladewright.engine.rotor.atmosphere import standard_air
from bladewright.engine.rotor.disc import cut
from bladewright.engine.rotor.inflow import InflowModel, glauert_inflow
from bladewright.engine.rotor.level_flight import free_flapping
from bladewright.engine.rotor.rotor import Flight, Modelled, Rotor, Setting
from bladewright.engine.rotor.rotor_blade import plain_blade
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.selfcheck.case import Case

GLAUERT = "H. Glauert, ARC R&M 1111, 1926 (from memory): inflow of a tilted rotor, recomputed"
WHEATLEY = "J. B. Wheatley, NACA Report 487, 1934 (from memory): first-harmonic flapping in closed form, recomputed"
ALL = "the same flapping equation with every harmonic, reverse flow not treated: recomputed"
ADVANCE, LOCK, RADIUS, SLOPE, SMALL = 0.2, 5.0, 3.0, 5.73, 0.01
PITCH, TILT, THRUST = math.radians(8.0), math.radians(5.0), 0.0033581356
OURS = "ours treats reverse flow, which alone moves the aft flapping by 0.2 %"


def _inflow() -> float:
    return glauert_inflow(ADVANCE, TILT, THRUST)


@cache
def _flapping() -> Setting:
    air = standard_air()
    chord, speed = RADIUS / 3000.0, 100.0 * 560.0 * math.pi / 30.0  # so slender that turning sections do not count
    y = np.linspace(0.0, RADIUS, 801)
    inertia = air.density * SLOPE * chord * RADIUS**4 / LOCK
    none = np.zeros_like(y)
    mass = SpanMass(y, np.full_like(y, 3.0 * inertia / RADIUS**3), none, none, none, none, none)
    ends = np.array([0.0, RADIUS])
    blade = plain_blade(ends, np.full(2, chord), np.zeros(2), straight_polar(SLOPE, 0.0, 0.0, 0.0))
    model = Modelled(InflowModel("uniform", 1.0, lossy_tip=False), azimuths=72, along=60)
    disc = cut(Rotor(blade, mass, 2, "hinged"), Flight(ADVANCE * speed * RADIUS, 1.0, 0.0, air), model)
    inflow = SMALL * _inflow() * speed * RADIUS
    none_but = dict.fromkeys(Setting.__slots__, 0.0)
    held = Setting(**none_but | {"collective": SMALL * PITCH, "rotor_speed": speed, "induced": inflow})
    return free_flapping(disc, held)


def _angle(name: str) -> float:
    return math.degrees(float(getattr(_flapping(), name))) / SMALL


CASES: tuple[Case, ...] = (
    Case(GLAUERT, "inflow ratio at an advance ratio of 0.2, 5 deg forward [1]", _inflow, 0.0258239516, 1e-10),
    Case(ALL, "coning [deg]", partial(_angle, "coning"), 3.96664, 2e-3 * 3.96664, OURS),
    Case(ALL, "flapping up over the tail [deg]", partial(_angle, "cosine_flap"), -3.75367, 2e-3 * 3.75367, OURS),
    Case(ALL, "flapping up on the advancing side [deg]", partial(_angle, "sine_flap"), -1.0539, 5e-3 * 1.0539, OURS),
    Case(WHEATLEY, "coning [deg]", partial(_angle, "coning"), 3.9669971, 2e-3 * 3.9669971),
    Case(
        WHEATLEY, "flapping up over the tail [deg]", partial(_angle, "cosine_flap"), -3.7498217, 4e-3 * 3.7498217,
        "the closed form stops at the first harmonic; the second takes 0.1 %, reverse flow 0.2 %",
    ),
    Case(
        WHEATLEY, "flapping up on the advancing side [deg]", partial(_angle, "sine_flap"), -1.0371234, 0.025,
        "the closed form stops at the first harmonic; the second takes 1.6 %",
    ),
)  # fmt: skip
