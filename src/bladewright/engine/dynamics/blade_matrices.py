"""Mass and stiffness of a turning blade in flap, chordwise bending and torsion at once.

The unknowns are what bending alone does to the feathering axis, aft and up, and the twist about it. A section tilts by
its bending slope; where the shear centre lies off the feathering axis, twist shifts that axis on its own.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.field_products import Part
from bladewright.engine.dynamics.outboard import outboard_pull
from bladewright.engine.dynamics.sections_along import Carried, Sections, carried_weight
from bladewright.engine.dynamics.span_basis import Grid, bending_shapes, running_integral, span_grid, twisting_shapes
from bladewright.errors import BadInput

LEAST_ORDER = 3  # a cubic has a deflection and a slope at both ends
ORDER = 10  # of the polynomials of each element: ten modes of a likely blade to seven digits


@dataclass(frozen=True, slots=True)
class Fields:
    """What each unknown does at the quadrature points."""

    y: Floats  # (q,) [m]
    weights: Floats  # (q,) [m]
    flap: Floats  # (m, q) of the feathering axis, up [m]
    chordwise: Floats  # (m, q) of the feathering axis, aft [m]
    torsion: Floats  # (m, q) nose-up [rad]
    outward: Floats  # (m, q) of the feathering axis, where the blade bends about an elastic centre off it [m]
    flap_slope: Floats  # (m, q) tilt of the section [rad]
    chordwise_slope: Floats  # (m, q) [rad]
    flap_curvature: Floats  # (m, q) [1/m]
    chordwise_curvature: Floats  # (m, q) [1/m]
    torsion_slope: Floats  # (m, q) [rad/m]
    root_twist: Floats  # (m,) at the inner end [rad]
    root_flap: Floats  # (m,) tilt at the hinge; nought where there is none [rad]


@dataclass(frozen=True, slots=True)
class BladeMatrices:
    """Symmetric. Stiffness at a rotor speed W is ``elastic + W**2 (centrifugal + borne)``."""

    mass: Floats  # (m, m) [kg, kg m, kg m^2]
    elastic: Floats  # (m, m) bending, torsion and the control run [N/m, N, N m]
    centrifugal: Floats  # (m, m) pull and place in the turning field, for a rotor speed of one [per (rad/s)^2]
    borne: Floats  # (m, m) what the turning would bend and stiffness bears, in twisting axes [per (rad/s)^2]
    fields: Fields
    stations: slice  # where among the quadrature points the beam's stations stand, of no weight
    flung: Floats  # (m,) load of the turning on the blade at rest in it, for a rotor speed of one [per (rad/s)^2]
    weight: Floats  # (m,) load of the blade's own weight, down, for a gravity of one [per m/s^2]
    carried: Carried  # mass at the points, weights included
    pull: Floats  # (q,) of all that lies outboard, for a rotor speed of one [N per (rad/s)^2]

    @property
    def turning(self) -> Floats:
        """All that goes with the square of the rotor speed. (m, m)"""
        return self.centrifugal + self.borne

    def stiffness(self, rotor_speed: float) -> Floats:
        """Whole stiffness at a rotor speed [rad/s]. (m, m)"""
        return self.elastic + rotor_speed**2 * self.turning


def blade_matrices(
    beam: BladeBeam,
    root: Root,
    pattern: Pattern,
    pitch: float = 0.0,
    order: int = ORDER,
    alike: BladeMatrices | None = None,
) -> BladeMatrices:
    """A turning blade's small movements about its straight, untwisting state.

    With X, Z a section's places in the plane of rotation and square to it, s the tilt of sections, T the pull:
    ``2 U = integral of E (s_v' X + s_w' Z)**2 + G J p'**2 + T [v'**2 + w'**2 + 2 p' ...] dy`` and the
    centrifugal field's ``W**2 [m y p (s_v Z - s_w X) + (I_X - I_Z) p**2 - m v**2 - ...]``; docs/theory/rotating-beam.

    Parameters
    ----------
    beam : BladeBeam
        The blade. [-]
    root : Root
        How it is held. [-]
    pattern : {"collective", "cyclic"}
        A teetering rotor's blades are clamped at the axis in the one and hinged there in the other. [-]
    pitch : float
        Of the lever, added to the twist, nose-up. [rad]
    order : int
        Of the polynomials, at least 3. [-]
    alike : BladeMatrices, optional
        Of the same blade held alike, its mass elsewhere along the chord: shapes and elasticity are the same. [-]

    Returns
    -------
    BladeMatrices

    Raises
    ------
    BadInput
        If the hinge lies outboard of the blade's inner end, the pitch is not finite or the order below 3.

    Notes
    -----
    Slender blade, sections stay plane and free to warp; chordwise held at its inner end; hub rigid from the axis to
    there. What mass off the elastic centre would bend, the stiffness bears. Left out: what steady coning, lag and
    untwist do to the movements, the Coriolis force, the square of twist per length.

    Source: J. C. Houbolt, G. W. Brooks, NACA Report 1346, 1958 (from memory); re-derived in docs/theory/rotating-beam.
    """
    if not np.isfinite(pitch):
        raise BadInput("not an angle", field="pitch", value=pitch, allowed="a finite number")
    if order < LEAST_ORDER:
        raise BadInput("too low for a smooth shape", field="order", value=order, allowed=f"{LEAST_ORDER} or more")
    grid = span_grid(beam.y, 2 * order, tuple(weight.y for weight in beam.masses))
    at = Sections(beam, grid, pitch)
    fields = _fields(grid, at, root, pattern, order) if alike is None else alike.fields
    parts = _Parts(fields)
    weights = [
        carried_weight(one, grid, n, at.angle)
        for n, one in zip(range(len(beam.masses), 0, -1), beam.masses, strict=True)
    ]
    whole = at.carried
    for one in weights:
        whole = whole.with_more(one)
    outboard = _outboard(beam, grid, at, whole)
    mass, centrifugal = _inertia(parts, whole, at)
    centrifugal += _stiffened(parts, at, outboard)
    elastic = _elastic(parts, at, root) if alike is None else alike.elastic
    flung = _pulled(fields, at, outboard.pull) + _flung(fields, whole, root.precone)
    weight = _weight(fields, whole)
    hinge = root.flaps_about(pattern)
    if hinge is not None:  # the pull reaches the hinge through the hub
        centrifugal += (
            float(outboard_pull(beam, beam.y[:1])[0])
            * (grid.first - hinge)
            * np.outer(fields.root_flap, fields.root_flap)
        )
    return BladeMatrices(
        mass,
        elastic,
        centrifugal,
        _borne(parts, at, outboard),
        fields,
        grid.stations,
        flung,
        weight,
        whole,
        outboard.pull,
    )


def _fields(grid: Grid, at: Sections, root: Root, pattern: Pattern, order: int) -> Fields:
    bend, twist = bending_shapes(grid, order), twisting_shapes(grid, order - 1)
    free = slice(2, None)
    up = [bend.value[free], bend.slope[free], bend.curvature[free]]
    hinge = root.flaps_about(pattern)
    if hinge is not None:
        if hinge > grid.first:
            raise BadInput(
                "the flap hinge lies outboard of the blade's inner end",
                field="hinge_offset",
                value=f"{hinge:g} m",
                allowed=f"0 to {grid.first:g} m",
            )
        turning = [array[1] + (grid.first - hinge) * array[0] for array in (bend.value, bend.slope, bend.curvature)]
        up = [np.vstack((one, array)) for one, array in zip(turning, up, strict=True)]
    aft = [bend.value[free], bend.slope[free], bend.curvature[free]]
    held = 0 if np.isfinite(root.control_stiffness) else 1
    turn, rate = twist.value[held:], twist.slope[held:]
    a, u, t = len(aft[0]), len(up[0]), len(turn)

    def whole(chordwise: Floats | None, flap: Floats | None, torsion: Floats | None) -> Floats:
        rows = [np.zeros((count, len(grid.y))) if part is None else part
                for part, count in ((chordwise, a), (flap, u), (torsion, t))]  # fmt: skip
        return np.vstack(rows)

    root_twist, root_flap = np.zeros(a + u + t), np.zeros(a + u + t)
    if not held:
        root_twist[a + u] = 1.0
    if hinge is not None:
        root_flap[a] = 1.0
    bent = whole(aft[2] * at.elastic_aft, up[2] * at.elastic_up, -rate * at.twist_slope * at.unwinding)
    return Fields(
        y=grid.y,
        weights=grid.weights,
        flap=whole(None, up[0], running_integral(grid, at.shear_aft * rate)),
        chordwise=whole(aft[0], None, -running_integral(grid, at.shear_up * rate)),
        torsion=whole(None, None, turn),
        outward=running_integral(grid, bent),
        flap_slope=whole(None, up[1], None),
        chordwise_slope=whole(aft[1], None, None),
        flap_curvature=whole(None, up[2], None),
        chordwise_curvature=whole(aft[2], None, None),
        torsion_slope=whole(None, None, rate),
        root_twist=root_twist,
        root_flap=root_flap,
    )


@dataclass(frozen=True, slots=True)
class _Outboard:
    """Of all that lies outboard of the points, for a rotor speed of one."""

    pull: Floats  # (q,) [N per (rad/s)^2]
    mass_aft: Floats  # (q,) integral of mass times its place aft [kg m]
    pull_up: Floats  # (q,) integral of mass times radius times its place up [N m per (rad/s)^2]


def _outboard(beam: BladeBeam, grid: Grid, s: Sections, whole: Carried) -> _Outboard:
    """Running sums, weights included."""

    def beyond(density: Floats, carried: Floats) -> Floats:
        found = float(grid.weights @ density) - running_integral(grid, density)
        for column in range(grid.stations.stop, len(grid.y)):  # weights
            found = found + carried[column] * (grid.y <= grid.y[column])
        return found

    return _Outboard(
        pull=outboard_pull(beam, grid.y),
        mass_aft=beyond(s.mass * s.mass_aft, whole.aft),
        pull_up=beyond(grid.y * s.mass * s.mass_up, grid.y * whole.up),
    )


class _Parts:
    """The fields whose products are integrated."""

    def __init__(self, fields: Fields) -> None:
        self.y, self.weights, self.root_twist = fields.y, fields.weights, fields.root_twist
        self.flap, self.chordwise, self.torsion = map(Part.of, (fields.flap, fields.chordwise, fields.torsion))
        self.flap_slope, self.chordwise_slope = Part.of(fields.flap_slope), Part.of(fields.chordwise_slope)
        self.torsion_slope, self.outward = Part.of(fields.torsion_slope), Part.of(fields.outward)
        self.flap_curvature = Part.of(fields.flap_curvature)
        self.chordwise_curvature = Part.of(fields.chordwise_curvature)


def _inertia(f: _Parts, c: Carried, s: Sections) -> tuple[Floats, Floats]:
    """Mass matrix, and what the centrifugal field does to offset mass: kinetic energy in a turning frame."""
    tilt = (
        f.outward.times(f.outward, c.mass)
        - f.outward.both_ways(f.chordwise_slope, c.aft)
        - f.outward.both_ways(f.flap_slope, c.up)
        + f.chordwise_slope.times(f.chordwise_slope, c.aft2)
        + f.flap_slope.times(f.flap_slope, c.up2)
        + f.chordwise_slope.both_ways(f.flap_slope, c.both)
    )
    sideways = f.chordwise.times(f.chordwise, c.mass) + f.chordwise.both_ways(f.torsion, c.up)
    upward = f.flap.times(f.flap, c.mass) - f.flap.both_ways(f.torsion, c.aft)
    turning = f.torsion.times(f.torsion, c.aft2 + c.up2)
    flung = (
        f.torsion.times(f.torsion, c.aft2 - c.up2)
        - sideways
        - tilt
        + f.chordwise_slope.times(f.chordwise_slope, c.aft2 - c.aft * s.elastic_aft)
        + f.chordwise_slope.both_ways(f.flap_slope, 0.5 * (c.both - c.aft * s.elastic_up))
        + f.chordwise_slope.both_ways(f.torsion, f.y * c.up)
        - f.flap_slope.both_ways(f.torsion, f.y * c.aft)
    )
    return sideways + upward + turning + tilt, flung


def _flung(f: Fields, c: Carried, precone: float) -> Floats:
    """Load of offset and coned mass: outward along the line from the rotor axis."""
    load: Floats = (
        f.chordwise @ c.aft
        + f.torsion @ c.both
        - f.chordwise_slope @ (f.y * c.aft)
        - f.flap_slope @ (f.y * c.up)
        - precone * (f.flap @ (f.y * c.mass) - f.torsion @ (f.y * c.aft))
    )
    return load


def _weight(f: Fields, c: Carried) -> Floats:
    load: Floats = f.torsion @ c.aft - f.flap @ c.mass
    return load


def _pulled(f: Fields, s: Sections, pull: Floats) -> Floats:
    """Load of the pull along a line off the feathering axis, and its untwist."""
    along = pull * f.weights
    load: Floats = (
        f.chordwise_curvature @ (along * s.elastic_aft)
        + f.flap_curvature @ (along * s.elastic_up)
        - f.torsion_slope @ (along * s.twist_slope * s.unwinding)
    )
    return load


def _elastic(f: _Parts, s: Sections, root: Root) -> Floats:
    """Bending about the elastic centre, torsion, and the control run."""
    aft, up, both = (f.weights * stiffness for stiffness in s.bending)
    elastic = (
        f.chordwise_curvature.times(f.chordwise_curvature, aft)
        + f.flap_curvature.times(f.flap_curvature, up)
        + f.chordwise_curvature.both_ways(f.flap_curvature, both)
        + f.torsion_slope.times(f.torsion_slope, f.weights * s.torsion)
    )
    if np.isfinite(root.control_stiffness):
        elastic += root.control_stiffness * np.outer(f.root_twist, f.root_twist)
    return elastic


def _stiffened(f: _Parts, s: Sections, outboard: _Outboard) -> Floats:
    """What the pull along the line of elastic centres adds, for a rotor speed of one."""
    pull, first = f.weights * outboard.pull, f.weights * outboard.mass_aft
    straight = (
        f.chordwise_slope.times(f.chordwise_slope, pull)
        + f.flap_slope.times(f.flap_slope, pull)
        + f.torsion_slope.times(f.torsion_slope, pull * s.spread)
    )
    half = (
        f.flap_slope.times(f.torsion_slope, pull * s.shear_aft)
        - f.chordwise_slope.times(f.torsion_slope, pull * s.shear_up)
        + f.flap_curvature.times(f.torsion, pull * s.elastic_aft)
        - f.chordwise_curvature.times(f.torsion, pull * s.elastic_up)
        - f.torsion.times(f.torsion_slope, first * s.shear_aft)  # the axis, aft to the second order
    )
    return straight + half + half.T


def _borne(f: _Parts, s: Sections, outboard: _Outboard) -> Floats:
    """Steady bending of the straight blade, turned along by twist: ``y S - T X_e`` in the plane, ``P - T Z_e`` out.

    In the plane the line of force of every slice meets the rotor axis: its arm at y is its place times y / radius.
    """
    up, aft = f.y * outboard.mass_aft - outboard.pull * s.elastic_aft, outboard.pull_up - outboard.pull * s.elastic_up
    return f.flap_curvature.both_ways(f.torsion, f.weights * up) - f.chordwise_curvature.both_ways(
        f.torsion, f.weights * aft
    )
