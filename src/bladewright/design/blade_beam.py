"""The drawn blade as a turning beam: what its sections weigh and how stiff they are, about the feathering axis."""

import numpy as np

from bladewright.design.section_constants import section_constants, section_stiffness
from bladewright.design.section_moduli import moduli
from bladewright.design.spanwise import mass_gaps, span_stations
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.dynamics.blade_beam import BladeBeam
from bladewright.engine.structure.moments import moments_about
from bladewright.errors import MissingInput
from bladewright.figures import Missing


def beam_gaps(drawing: BladeDrawing) -> tuple[Missing, ...]:
    """What keeps the blade from being a beam: entries without which mass or stiffness are not known."""
    return mass_gaps(drawing) or moduli(drawing).missing


def blade_beam(drawing: BladeDrawing) -> BladeBeam:
    """The beam from root to tip at the span's stations; ``MissingInput`` names the first entry that is not there."""
    gaps = beam_gaps(drawing)
    if gaps:
        raise MissingInput(f"{gaps[0].name} need what is not entered", field=gaps[0].needs[0])
    plan = drawing.planform
    y = span_stations(drawing)
    sections = section_constants(drawing, y)
    found = section_stiffness(drawing, sections)
    bend = found.bending
    assert bend is not None
    assert found.torsion is not None
    assert found.shear_x is not None
    assert found.shear_z is not None
    axis = plan.feathering_axis * sections.chord
    one, first_x, first_z, xx, zz, xz = moments_about(sections.mass, axis, np.zeros_like(axis)).T
    return BladeBeam(
        y=y,
        twist=np.interp(y, [s.radius for s in plan.stations], [s.twist for s in plan.stations]),
        mass_per_length=one,
        mass_x=first_x / one,
        mass_z=first_z / one,
        chordwise_inertia=xx,
        normal_inertia=zz,
        product_of_inertia=xz,
        axial=bend.axial,
        flapwise=bend.flapwise,
        chordwise=bend.chordwise,
        bending_product=bend.product,
        elastic_x=bend.centre_x - axis,
        elastic_z=bend.centre_z,
        torsion=found.torsion,
        shear_x=found.shear_x - axis,
        shear_z=found.shear_z,
        gyration_squared=(bend.flapwise + bend.chordwise) / bend.axial,
    )
