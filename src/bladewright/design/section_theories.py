"""What two theories without a boundary layer say of the section: its mean line alone, and its whole outline."""

from dataclasses import dataclass
from functools import lru_cache

import numpy as np

from bladewright.design.outline import outline_of
from bladewright.drawing.blade import Reflex, Section
from bladewright.engine.arrays import Floats
from bladewright.engine.flow.panelling import panel_nodes
from bladewright.engine.flow.panels import PanelFlow, panel_flow
from bladewright.engine.flow.thin_airfoil import LIFT_SLOPE as THIN_SLOPE
from bladewright.engine.flow.thin_airfoil import sampled_thin_section

PANELS = 160  # moment within 2e-5 of twice as many on a 12 % section with a reflex
USUAL_LIFT = 0.4  # at which a section's moment is told: about the mean of a hovering blade; our own choice
KEPT = 256  # sections of one run
ENDS = np.array([0.0, 0.1])  # [rad] two angles tell all others: lift is a sine


@dataclass(frozen=True, slots=True)
class Theory:
    """One theory's answer."""

    name: str
    zero_lift_angle: float  # [rad]
    lift_slope: float  # [1/rad]
    moment: float  # about the quarter chord, at the usual lift [1]


@dataclass(frozen=True, slots=True, eq=False)
class Pressure:
    """Pressure along both surfaces at one lift."""

    lift: float  # [1]
    angle: float  # of attack [rad]
    top: Floats  # (n, 2) place and pressure coefficient, from the leading edge [chord fraction, 1]
    bottom: Floats  # (n, 2) [chord fraction, 1]


@lru_cache(maxsize=KEPT)
def mean_line_theory(section: Section, reflex: Reflex | None) -> Theory:
    """Thin-section theory of the line half-way between both surfaces."""
    outline = outline_of(section, reflex)
    thin = sampled_thin_section(outline.mean_line, outline.breaks)
    return Theory("mean line alone", thin.zero_lift_angle, THIN_SLOPE, thin.moment)


@lru_cache(maxsize=KEPT)
def outline_theory(section: Section, reflex: Reflex | None) -> Theory:
    """Potential flow about the whole outline, without a boundary layer."""
    flow = _panels(section, reflex)
    zero, slope = _straight(flow)
    at = panel_flow(flow.nodes, np.array([zero + _reach(USUAL_LIFT, slope)]))
    return Theory("outline without boundary layer", zero, slope, float(at.moment[0]))


def surface_pressure(section: Section, reflex: Reflex | None, lift: float) -> Pressure:
    """Pressure on both surfaces at a lift, without a boundary layer."""
    flow = _panels(section, reflex)
    zero, slope = _straight(flow)
    angle = zero + _reach(lift, slope)
    at = panel_flow(flow.nodes, np.array([angle]))
    points = np.column_stack((at.nodes[:, 0], at.pressure[0]))
    nose = int(np.argmin(at.nodes[:, 0]))
    return Pressure(lift, angle, points[nose::-1], points[nose:])


@lru_cache(maxsize=KEPT)
def _panels(section: Section, reflex: Reflex | None) -> PanelFlow:
    return panel_flow(panel_nodes(outline_of(section, reflex), PANELS), ENDS)


def _straight(flow: PanelFlow) -> tuple[float, float]:
    """Zero-lift angle and slope there: lift is ``s sin(angle - zero)``."""
    (low, high), (first, second) = flow.lift, ENDS
    cosine, sine = np.linalg.solve([[np.cos(first), np.sin(first)], [np.cos(second), np.sin(second)]], [low, high])
    return float(-np.arctan2(cosine, sine)), float(np.hypot(cosine, sine))


def _reach(lift: float, slope: float) -> float:
    return float(np.arcsin(lift / slope))
