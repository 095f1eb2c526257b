"""The drawn sections as six-by-six matrices of stiffness and mass, about the feathering axis."""

from bladewright.design.blade_beam import beam_gaps
from bladewright.design.section_constants import section_constants, section_stiffness
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.section_matrices import SectionMatrices, about, mass_matrix, stiffness_matrix
from bladewright.errors import MissingInput


def section_matrices(drawing: BladeDrawing, radii: Floats) -> SectionMatrices:
    """Stiffness and mass at radii [m], in each section's axes; ``MissingInput`` without moduli, spar or adhesive."""
    gaps = beam_gaps(drawing)
    if gaps:
        raise MissingInput(f"{gaps[0].name} needs what is not entered", field=gaps[0].needs[0])
    sections = section_constants(drawing, radii)
    found = section_stiffness(drawing, sections)
    assert found.stretching is not None
    assert found.shearing is not None
    assert found.torsion is not None
    assert found.shear_x is not None
    assert found.shear_z is not None
    stiffness = stiffness_matrix(found.stretching, found.shearing, found.torsion, found.shear_x, found.shear_z)
    axis = drawing.planform.feathering_axis * sections.chord
    return SectionMatrices(about(stiffness, axis, 0.0 * axis), about(mass_matrix(sections.mass), axis, 0.0 * axis))
