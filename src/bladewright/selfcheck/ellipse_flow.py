"""Panels against the exact flow about an ellipse and a circle, without and with circulation."""

import math
from functools import cache, partial

import numpy as np

from bladewright.engine.flow.panels import PanelFlow, panel_flow
from bladewright.selfcheck.case import Case

SOURCE = "L. M. Milne-Thomson, Theoretical Hydrodynamics: map of the ellipse (from memory); closed form"
PANELS = 200
THICKNESS, INCIDENCE = 0.12, 5.0  # [1], [deg]
TURNED = 10.0  # [deg] of the circle's rear stagnation point below the stream's axis
AWAY = "away from the last two panels"
PRESSURES = (
    (10.0, 0.14267368, 0.13611148),
    (30.0, -0.20245399, -0.24992464),
    (60.0, -0.24840764, -0.36724574),
    (90.0, -0.25440000, -0.47222427),
    (120.0, -0.24840764, -0.64285416),
    (150.0, -0.20245399, -1.09980698),
    (170.0, 0.14267368, -2.40325584),
    (190.0, 0.14267368, 1.00000000),
    (210.0, -0.20245399, 0.45872687),
    (270.0, -0.25440000, -0.03657573),
    (330.0, -0.20245399, -0.13802694),
    (350.0, 0.14267368, 0.16216091),
)


@cache
def ellipse() -> PanelFlow:
    """The ellipse, the end of its long axis taken as the rear stagnation point."""
    eccentric = np.linspace(0.0, 2.0 * math.pi, PANELS + 1)
    place = np.stack((0.5 + 0.5 * np.cos(eccentric), 0.5 * THICKNESS * np.sin(eccentric)), axis=1)
    place[-1] = place[0]
    return panel_flow(place, np.radians([0.0, INCIDENCE]))


@cache
def circle() -> PanelFlow:
    """The unit circle; its ring begins at the rear stagnation point, which gives it its circulation."""
    angle = np.linspace(0.0, 2.0 * math.pi, PANELS + 1) - math.radians(TURNED)
    place = np.stack((np.cos(angle), np.sin(angle)), axis=1)
    place[-1] = place[0]
    return panel_flow(place, np.zeros(1), chord=1.0)


def _read(found: PanelFlow, at: int, degrees: float) -> float:
    from scipy.interpolate import make_interp_spline

    share = np.linspace(0.0, 360.0, PANELS + 1)
    return 1.0 - float(make_interp_spline(share, found.speed[at])(degrees)) ** 2


def _ellipse_pressure(at: int, degrees: float) -> float:
    return _read(ellipse(), at, degrees)


def _circle_pressure(degrees: float) -> float:
    return _read(circle(), 0, degrees + TURNED)


def _middle_moment() -> float:
    found, angle = ellipse(), math.radians(INCIDENCE)
    normal = found.lift_from_pressure[1] * math.cos(angle) + found.drag_from_pressure[1] * math.sin(angle)
    return float(found.moment[1] + 0.25 * normal)


CASES: tuple[Case, ...] = (
    Case(
        SOURCE, "12 % ellipse at 5 deg: lift [1]", lambda: float(ellipse().lift[1]), 0.613329564, 6e-4, "a thousandth"
    ),
    Case(
        SOURCE,
        "12 % ellipse at 5 deg: moment about its middle [1]",
        _middle_moment,
        0.134419045,
        5e-4,
        "as a cambered section's",
    ),
    Case(
        SOURCE,
        "circle, rear stagnation point at -10 deg: lift over rho U^2 a [1]",
        lambda: 0.5 * float(circle().lift[0]),
        2.18212736,
        2.2e-3,
        "a thousandth",
    ),
    Case(SOURCE, "circle: pressure at its top [1]", partial(_circle_pressure, 90.0), -4.50980018, 5e-3, AWAY),
    Case(SOURCE, "circle: pressure at its bottom [1]", partial(_circle_pressure, 270.0), -1.73142934, 5e-3, AWAY),
    *(
        Case(
            SOURCE,
            f"12 % ellipse at {angle:g} deg: pressure at an eccentric angle of {degrees:g} deg [1]",
            partial(_ellipse_pressure, at, degrees),
            exact,
            5e-3,
            AWAY,
        )
        for degrees, *values in PRESSURES
        for at, (angle, exact) in enumerate(zip((0.0, INCIDENCE), values, strict=True))
    ),
)
