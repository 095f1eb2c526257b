"""Beams for tests: one alike along its span with numbers of one, and one like a real blade; invented."""

from dataclasses import replace

import numpy as np

from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass


def plain_beam(
    *,
    inner: float = 0.0,
    length: float = 1.0,
    stations: int = 2,
    tip_mass: float = 0.0,
    **changed: float,
) -> BladeBeam:
    """Mass per length and flapwise stiffness of one, thin, its other stiffnesses far above; every value as changed."""
    y = np.linspace(inner, inner + length, stations)
    values = {
        "twist": 0.0, "mass_per_length": 1.0, "mass_x": 0.0, "mass_z": 0.0, "chordwise_inertia": 1e-9,
        "normal_inertia": 0.0, "product_of_inertia": 0.0, "axial": 1e9, "flapwise": 1.0, "chordwise": 1e4,
        "bending_product": 0.0, "elastic_x": 0.0, "elastic_z": 0.0, "torsion": 1e3, "shear_x": 0.0, "shear_z": 0.0,
        "gyration_squared": 0.0,
    } | changed  # fmt: skip
    masses = (PointMass(inner + length, tip_mass),) if tip_mass else ()
    return BladeBeam(y, **{name: np.full(stations, value) for name, value in values.items()}, masses=masses)


def likely_blade(stations: int = 41) -> BladeBeam:
    """Tapered, twisted, every centre somewhere else, a tip weight."""
    y = np.linspace(0.25, 3.0, stations)
    one, out = np.ones(stations), (y - 0.25) / 2.75
    taper = 1.0 - 0.3 * out
    return BladeBeam(
        y=y,
        twist=-0.14 * out,
        mass_per_length=2.9 * taper,
        mass_x=0.005 * one,
        mass_z=0.001 * one,
        chordwise_inertia=0.006 * taper,
        normal_inertia=1e-4 * taper,
        product_of_inertia=1e-5 * taper,
        axial=4e7 * one,
        flapwise=1800.0 * taper,
        chordwise=60000.0 * taper,
        bending_product=500.0 * taper,
        elastic_x=0.008 * one,
        elastic_z=0.001 * one,
        torsion=2600.0 * taper,
        shear_x=-0.003 * one,
        shear_z=0.001 * one,
        gyration_squared=0.0019 * one,
        masses=(PointMass(2.95, 0.5, 0.002, -0.001),),
    )


def moved(beam: BladeBeam, aft: float, up: float) -> BladeBeam:
    """The same untwisted blade, all of it elsewhere beside the feathering axis [m]; no point masses."""
    mass, x, z = beam.mass_per_length, beam.mass_x, beam.mass_z
    return replace(
        beam,
        mass_x=x + aft,
        elastic_x=beam.elastic_x + aft,
        shear_x=beam.shear_x + aft,
        mass_z=z + up,
        elastic_z=beam.elastic_z + up,
        shear_z=beam.shear_z + up,
        chordwise_inertia=beam.chordwise_inertia + mass * (2.0 * aft * x + aft**2),
        normal_inertia=beam.normal_inertia + mass * (2.0 * up * z + up**2),
        product_of_inertia=beam.product_of_inertia + mass * (aft * z + up * x + aft * up),
    )
