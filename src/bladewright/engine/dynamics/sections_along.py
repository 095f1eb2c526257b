"""A blade's sections at the points along it, turned into the plane of rotation."""

from dataclasses import dataclass, fields

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import STEP, BladeBeam, PointMass
from bladewright.engine.dynamics.span_basis import Grid


@dataclass(frozen=True, slots=True)
class Carried:
    """Mass at the points with its moments, turned into the plane of rotation."""

    mass: Floats  # (q,) [kg]
    aft: Floats  # (q,) mass times its place [kg m]
    up: Floats  # (q,) [kg m]
    aft2: Floats  # (q,) times its place squared [kg m^2]
    up2: Floats  # (q,) [kg m^2]
    both: Floats  # (q,) [kg m^2]

    def with_more(self, other: "Carried") -> "Carried":
        """Both together."""
        return Carried(*(getattr(self, field.name) + getattr(other, field.name) for field in fields(self)))


class Sections:
    """The blade's properties at the points, places and stiffnesses turned into the plane of rotation."""

    def __init__(self, beam: BladeBeam, grid: Grid, pitch: float) -> None:
        self.grid = grid
        middle = 0.5 * (grid.ends[grid.element] + grid.ends[grid.element + 1])
        single = np.arange(len(grid.y)) >= grid.stations.stop
        inward = grid.y + STEP * np.sign(middle - grid.y) * single  # a single place reads its own element

        def read(values: Floats) -> Floats:
            found: Floats = np.interp(inward, beam.y, values)
            found[grid.stations] = values
            return found

        self.angle = pitch + read(beam.twist)
        sin, cos = np.sin(self.angle), np.cos(self.angle)

        def turned(x: Floats, z: Floats) -> tuple[Floats, Floats]:
            return x * cos + z * sin, z * cos - x * sin

        def turned_moments(xx: Floats, zz: Floats, xz: Floats) -> tuple[Floats, Floats, Floats]:
            return (
                xx * cos**2 + 2.0 * xz * sin * cos + zz * sin**2,
                xx * sin**2 - 2.0 * xz * sin * cos + zz * cos**2,
                (zz - xx) * sin * cos + xz * (cos**2 - sin**2),
            )

        self.mass = read(beam.mass_per_length)
        self.mass_aft, self.mass_up = turned(read(beam.mass_x), read(beam.mass_z))
        self.elastic_aft, self.elastic_up = turned(read(beam.elastic_x), read(beam.elastic_z))
        self.shear_aft, self.shear_up = turned(read(beam.shear_x), read(beam.shear_z))
        self.inertia = turned_moments(
            read(beam.chordwise_inertia), read(beam.normal_inertia), read(beam.product_of_inertia)
        )
        self.bending = turned_moments(read(beam.chordwise), read(beam.flapwise), read(beam.bending_product))
        parts = (self.mass, self.mass * self.mass_aft, self.mass * self.mass_up, *self.inertia)
        self.carried = Carried(*(grid.weights * part for part in parts))
        slope = np.diff(beam.twist) / np.diff(beam.y)
        self.twist_slope = slope[np.clip(np.searchsorted(beam.y, inward, side="right") - 1, 0, len(slope) - 1)]
        self.torsion = read(beam.torsion)
        self.gyration_squared = read(beam.gyration_squared)
        apart = self.elastic_aft - self.shear_aft, self.elastic_up - self.shear_up
        self.spread = self.gyration_squared + apart[0] ** 2 + apart[1] ** 2
        self.unwinding = self.gyration_squared + self.elastic_aft * apart[0] + self.elastic_up * apart[1]


def carried_weight(weight: PointMass, grid: Grid, from_last: int, angle: Floats) -> Carried:
    """The same of one weight, all of it at its own place.

    Parameters
    ----------
    weight : PointMass
        [-]
    grid : Grid
        Whose last points are the places of the beam's weights. [-]
    from_last : int
        Which of them, counted from the last as one. [-]
    angle : (q,) array
        Of the sections at the points, nose-up. [rad]

    Returns
    -------
    Carried

    Notes
    -----
    Source: definition; no source needed.
    """
    column = len(grid.y) - from_last
    sin, cos = np.sin(angle[column]), np.cos(angle[column])
    aft, up = weight.x * cos + weight.z * sin, weight.z * cos - weight.x * sin
    there = np.zeros(len(grid.y))
    there[column] = weight.mass
    return Carried(there, there * aft, there * up, there * aft**2, there * up**2, there * aft * up)
