"""What a coat, water or tape adds to the drawn blade in service: how much, and where along span and chord."""

from dataclasses import dataclass

import numpy as np

from bladewright.design.outline import section_outline
from bladewright.drawing.blade import Planform
from bladewright.drawing.file import BladeDrawing
from bladewright.drawing.limits import AddedMass
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.moments import line_moments, moments_about
from bladewright.errors import BadInput

POINTS = 121  # a side of the outline, as for the section's own mass
STATIONS = 101  # along the reach; chord is straight between them
GROWS = (1, 2, 2, 3, 3, 3)  # power of the chord that each moment of a line grows with


@dataclass(frozen=True, slots=True)
class AddedAlong:
    """Added mass along its own reach of the span."""

    name: str
    y: Floats  # (n,) radii from its inner to its outer end [m]
    moments: Floats  # (n, 6) per length about the feathering axis, x aft, z up [kg/m to kg m]

    @property
    def mass(self) -> float:
        """[kg]"""
        return float(np.trapezoid(self.moments[:, 0], self.y))

    @property
    def span_moment(self) -> float:
        """About the rotor axis. [kg m]"""
        return float(np.trapezoid(self.moments[:, 0] * self.y, self.y))

    @property
    def chordwise_moment(self) -> float:
        """About the feathering axis, aft positive. [kg m]"""
        return float(np.trapezoid(self.moments[:, 1], self.y))


def added_along(drawing: BladeDrawing, added: AddedMass, field: str = "limits.flutter.changes") -> AddedAlong:
    """The entered mass on both faces; ``BadInput`` names ``field`` where it reaches off the blade."""
    plan = drawing.planform
    inner = plan.root if added.inner is None else added.inner
    outer = plan.tip if added.outer is None else added.outer
    if not plan.root <= inner < outer <= plan.tip:
        raise BadInput(
            f"{added.name} reaches off the blade",
            field=field,
            value=f"{inner:g} m to {outer:g} m",
            allowed=f"a reach between {plan.root:g} m and {plan.tip:g} m",
            fix="check inner and outer",
        )
    y = _stations(plan, inner, outer)
    stations = plan.stations
    chord = np.interp(y, [s.radius for s in stations], [s.chord for s in stations])
    line = coat_line(drawing, added.front, added.back)
    about_edge = added.area_density * line * chord[:, None] ** np.array(GROWS)
    axis = plan.feathering_axis * chord
    return AddedAlong(added.name, y, moments_about(about_edge, axis, np.zeros_like(axis)))


def coat_line(drawing: BladeDrawing, front: float, back: float) -> Floats:
    """Length and its moments of both faces between two places of a chord of one. (6,) [1]"""
    outline = section_outline(drawing, POINTS)
    points = np.concatenate((outline.top[::-1], outline.bottom[1:]))
    here, there = points[:-1], points[1:]
    # the nose lies a little ahead of nought and the tail behind one: a whole coat has no ends there
    least, greatest = (front if front > 0.0 else -np.inf), (back if back < 1.0 else np.inf)
    step = there[:, 0] - here[:, 0]
    level = step == 0.0
    ends = np.stack([(bound - here[:, 0]) / np.where(level, 1.0, step) for bound in (least, greatest)])
    ends = np.where(level, np.where((here[:, 0] >= least) & (here[:, 0] <= greatest), [[0.0], [1.0]], 0.0), ends)
    first, last = np.clip(np.sort(ends, axis=0), 0.0, 1.0)
    pieces = np.stack((here + first[:, None] * (there - here), here + last[:, None] * (there - here)), axis=1)
    total: Floats = line_moments(pieces).sum(axis=0)
    return total


def _stations(plan: Planform, inner: float, outer: float) -> Floats:
    own = [station.radius for station in plan.stations if inner < station.radius < outer]
    return np.union1d(np.linspace(inner, outer, STATIONS), own)
