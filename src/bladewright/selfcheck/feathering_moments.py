"""What turns a blade about its feathering axis, against closed forms."""

import math

import numpy as np

from bladewright.engine.flow.thin_airfoil import flap_derivatives
from bladewright.engine.rotor.control_loads import (
    Linkage,
    counterweight_moment,
    handle_force,
    pitch_link_force,
    section_moment,
)
from bladewright.engine.rotor.propeller_moment import propeller_moment
from bladewright.selfcheck.case import Case

STRIP = "strip theory, elementary: rho c^2 W^2 (R^3 - r0^3) cm/6; closed form, invented blade and linkage"
PROPELLER = "W. Johnson, Helicopter Theory, 1980, ch. 9 (from memory); uniform blade, closed form"
WEIGHT = "mass on an arm square to the chord: W^2 m l^2 sin p cos p; closed form"
SPEED = 560.0 * math.pi / 30.0
LINKAGE = Linkage(pitch_arm=0.15, handle_per_link=5.0, link_up_is="nose up", lever_up_is="nose up")


def _strip(coefficient: float) -> float:
    y = np.linspace(0.45, 3.0, 41)
    return section_moment(y, np.full_like(y, 0.18), np.full_like(y, coefficient), SPEED, 1.225)


def _per_degree() -> float:
    return _strip(flap_derivatives(0.08).moment * math.radians(1.0))


def _propeller(degrees: float) -> float:
    y, one = np.array([0.0, 3.0]), np.ones(2)
    inertia = (2.9 * 0.0021 * one, 2.9 * 2.5e-5 * one, 0.0 * one)
    return propeller_moment(y, *inertia, math.radians(degrees) * one, SPEED).total


CASES: tuple[Case, ...] = (
    Case(STRIP, "moment for cm = 0.001 [N m]", lambda: _strip(0.001), 0.6121512, 1e-7),
    Case(STRIP, "moment per degree of 8 % reflex [N m/deg]", _per_degree, 5.33326, 5e-6),
    Case(STRIP, "pitch link per degree [N/deg]", lambda: -pitch_link_force(_per_degree(), LINKAGE), 35.55507, 4e-5),
    Case(
        STRIP,
        "handle per degree, two blades [N/deg]",
        lambda: handle_force(2.0 * _per_degree(), LINKAGE),
        -14.22203,
        2e-5,
    ),
    Case(PROPELLER, "propeller moment at 4 deg [N m]", lambda: _propeller(4.0), -4.3201214, 1e-6),
    Case(PROPELLER, "propeller moment at 8 deg [N m]", lambda: _propeller(8.0), -8.5561566, 1e-6),
    Case(PROPELLER, "propeller moment at 12 deg [N m]", lambda: _propeller(12.0), -12.625656, 1e-5),
    Case(
        WEIGHT,
        "counterweight 0.35 kg on 35 mm at 8 deg [N m]",
        lambda: counterweight_moment(0.5 * 0.35 * 0.035**2 * SPEED**2, math.radians(8.0), SPEED, SPEED),
        0.2032102,
        1e-7,
    ),
)
