"""Chord, twist and mass of the drawn blade along its span, steps where parts begin and end kept as steps."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.section_constants import section_constants
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.rotor.span_mass import SpanMass
from bladewright.engine.structure.moments import moments_about
from bladewright.figures import Missing

STATIONS = 101  # from root to tip, the drawing's own and the steps besides
STEP = 1e-6  # [m] a part that begins or ends does so over this length


@dataclass(frozen=True, slots=True)
class Spanwise:
    """The blade along its span."""

    y: Floats  # (n,) radii [m]
    chord: Floats  # (n,) [m]
    twist: Floats  # (n,) nose-up positive [rad]
    mass: SpanMass  # per length, about the feathering axis

    @property
    def total_mass(self) -> float:
        """Of the blade. [kg]"""
        return self.mass.mass

    @property
    def span_moment(self) -> float:
        """First moment about the rotor axis. [kg m]"""
        return self.mass.span_moment

    @property
    def flap_inertia(self) -> float:
        """Second moment about the rotor axis. [kg m^2]"""
        return self.mass.flap_inertia

    @property
    def chordwise_centre(self) -> float:
        """Of mass of the whole blade, aft of the feathering axis. [m]"""
        first = self.mass.mass_per_length * self.mass.chordwise_centre
        return float(np.trapezoid(first, self.y)) / self.total_mass

    def centrifugal_force(self, rotor_speed: float) -> Floats:
        """Pull at each radius of all that lies outboard [N], at a rotor speed [rad/s]."""
        return outboard(rotor_speed**2 * self.mass.mass_per_length * self.y, self.y)


def outboard(load: Floats, y: Floats) -> Floats:
    """Sum of a load per length over all that lies outboard of each station."""
    pieces = 0.5 * (load[1:] + load[:-1]) * np.diff(y)
    return np.asarray(np.concatenate((np.cumsum(pieces[::-1])[::-1], [0.0])))


def spanwise(drawing: BladeDrawing) -> Spanwise:
    """The drawn blade from root to tip; ``MissingInput`` without spar or adhesive."""
    plan = drawing.planform
    y = span_stations(drawing)
    sections = section_constants(drawing, y)
    x = plan.feathering_axis * sections.chord
    one, first_x, first_z, xx, zz, xz = moments_about(sections.mass, x, np.zeros_like(x)).T
    return Spanwise(
        y=y,
        chord=sections.chord,
        twist=np.interp(y, [s.radius for s in plan.stations], [s.twist for s in plan.stations]),
        mass=SpanMass(y, one, first_x / one, first_z / one, xx, zz, xz),
    )


def span_mass(drawing: BladeDrawing) -> SpanMass | None:
    """Mass along the span; None where spar or adhesive are not entered."""
    return None if mass_gaps(drawing) else spanwise(drawing).mass


def mass_gaps(drawing: BladeDrawing) -> tuple[Missing, ...]:
    """What keeps mass and stiffness from being known."""
    needs = tuple(name for name in ("spar", "adhesive") if getattr(drawing, name) is None)
    return (Missing("mass, centres and stiffness of the blade", needs),) if needs else ()


def span_stations(drawing: BladeDrawing) -> Floats:
    """Radii from root to tip [m]: even ones, the drawing's own, and both sides of every step."""
    plan = drawing.planform
    edges = [
        end
        for part in (drawing.doubler, drawing.tip_weight, drawing.filler, drawing.erosion_tape)
        if part is not None
        for end in (part.inner, part.outer)
    ]
    sides = [edge + side * 0.5 * STEP for edge in edges for side in (-1.0, 1.0)]
    own = [station.radius for station in plan.stations]
    wanted = np.concatenate((np.linspace(plan.root, plan.tip, STATIONS), own, sides))
    inside = np.unique(wanted[(wanted > plan.root) & (wanted < plan.tip)])
    clear = [np.min(np.abs(radius - np.array([*edges, np.inf]))) > 0.4 * STEP for radius in inside]
    y = np.concatenate(([plan.root], inside[clear], [plan.tip]))
    return y[np.concatenate((np.diff(y) > 1e-3 * STEP, [True]))]
