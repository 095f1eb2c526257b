"""A blade alike along its span, for tests: a thin plate's air, mass about where a bonded blade has it; invented."""

import numpy as np

from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass
from bladewright.engine.dynamics.strip_air import Effects, StripAir

INNER, RADIUS, CHORD = 0.25, 3.0, 0.18
BARE = Effects(pitch_rate_lift=False, coned_turning=False, apparent_mass=False)


def even_blade(
    *,
    aft: float = 0.0,
    stiffer: float = 1.0,
    spread: float = 0.04,
    thick: float = 0.005,
    inner: float = INNER,
    masses: tuple[PointMass, ...] = (),
) -> BladeBeam:
    """Mass centre ``aft`` of the axis, radii of gyration ``spread`` along the chord about it, ``thick`` across [m]."""
    y = np.linspace(inner, RADIUS, 12)
    one = np.ones_like(y)
    mass = 2.9 * one
    return BladeBeam(
        y=y,
        twist=0.0 * one,
        mass_per_length=mass,
        mass_x=aft * one,
        mass_z=0.0 * one,
        chordwise_inertia=mass * (spread**2 + aft**2),
        normal_inertia=mass * thick**2,
        product_of_inertia=0.0 * one,
        axial=4.0e7 * stiffer * one,
        flapwise=1100.0 * stiffer * one,
        chordwise=45000.0 * stiffer * one,
        bending_product=0.0 * one,
        elastic_x=0.0 * one,
        elastic_z=0.0 * one,
        torsion=2600.0 * stiffer * one,
        shear_x=0.0 * one,
        shear_z=0.0 * one,
        gyration_squared=0.0019 * one,
        masses=masses,
    )


def even_air(*, centre: float = 0.0, effects: Effects = BARE, drag: float | None = None) -> StripAir:
    """Air at sea level on a plate whose aerodynamic centre lies ``centre`` aft of the axis [m]."""
    y = np.array([0.0, RADIUS])
    return StripAir(
        y=y,
        chord=np.full(2, CHORD),
        lift_slope=np.full(2, 2.0 * np.pi),
        aerodynamic_centre=np.full(2, centre),
        density=1.225,
        drag_coefficient=None if drag is None else np.full(2, drag),
        inflow=8.0,
        effects=effects,
    )
