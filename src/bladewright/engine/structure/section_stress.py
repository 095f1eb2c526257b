"""Stresses at points of a section from what passes through it: pull, two bending moments, two forces and a torque."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.structure.moments import centre, moments_about
from bladewright.engine.structure.section_warping import AFT, TWIST, UP, SectionWarping, shape_slopes

Through = Literal["rows", "columns"]


@dataclass(frozen=True, slots=True)
class SectionLoads:
    """What the outboard part does to the section; numbers or arrays of one shape."""

    pull: Floats | float = 0.0  # at the elastic centre [N]
    chord_moment: Floats | float = 0.0  # about the elastic centre, stretching the aft side [N m]
    flap_moment: Floats | float = 0.0  # about the elastic centre, stretching the top [N m]
    force_aft: Floats | float = 0.0  # through the shear centre [N]
    force_up: Floats | float = 0.0  # through the shear centre [N]
    torque: Floats | float = 0.0  # about the shear centre, turning the nose up [N m]


@dataclass(frozen=True, slots=True)
class Stress:
    """Stress at points; the section's own plane carries nothing across."""

    axial: Floats  # along the span, pulling positive [Pa]
    shear_x: Floats  # on the section, aft [Pa]
    shear_z: Floats  # on the section, up [Pa]

    @property
    def shear(self) -> Floats:
        """Size of the shear stress. [Pa]"""
        return np.hypot(self.shear_x, self.shear_z)

    @property
    def equivalent(self) -> Floats:
        """By R. von Mises, 1913: ``sqrt(s**2 + 3 t**2)``. [Pa]"""
        size: Floats = np.sqrt(self.axial**2 + 3.0 * self.shear**2)
        return size

    @property
    def greatest(self) -> Floats:
        """Principal stress, ``s/2 + sqrt(s**2/4 + t**2)``. [Pa]"""
        return 0.5 * self.axial + np.hypot(0.5 * self.axial, self.shear)

    @property
    def least(self) -> Floats:
        """Principal stress, ``s/2 - sqrt(s**2/4 + t**2)``. [Pa]"""
        return 0.5 * self.axial - np.hypot(0.5 * self.axial, self.shear)


def carried_to_centres(
    loads: SectionLoads, x: float, z: float, centre_x: float, centre_z: float, shear_x: float, shear_z: float
) -> SectionLoads:
    """Loads told about some axis, about the elastic centre and the shear centre instead.

    Parameters
    ----------
    loads : SectionLoads
        The pull and both forces taken to act at the axis, the moments and the torque about it. [-]
    x, z : floats
        The axis. [m]
    centre_x, centre_z : floats
        Elastic centre. [m]
    shear_x, shear_z : floats
        Shear centre. [m]

    Returns
    -------
    SectionLoads

    Notes
    -----
    Source: moments of forces; no source needed.
    """
    pull, aft, up = (np.asarray(load) for load in (loads.pull, loads.force_aft, loads.force_up))
    return SectionLoads(
        pull=pull,
        chord_moment=loads.chord_moment + pull * (x - centre_x),
        flap_moment=loads.flap_moment + pull * (z - centre_z),
        force_aft=aft,
        force_up=up,
        torque=loads.torque + up * (shear_x - x) - aft * (shear_z - z),
    )


def axial_strain(stretching: Floats, loads: SectionLoads, x: Floats, z: Floats) -> Floats:
    """Stretch of fibres from pull and bending, the section's product of stiffness included.

    ``e = N / EA + a x_c + b z_c`` with ``[[EI_xx, EI_xz], [EI_xz, EI_zz]] [a, b] = [M_x, M_z]``.

    Parameters
    ----------
    stretching : (6,) array
        Modulus times the integrals of 1, x, z, x**2, z**2, x z. [N, N m, N m^2]
    loads : SectionLoads
        Numbers, or arrays that go with the places. [-]
    x, z : (...) arrays
        Places of the fibres, from the origin of the moments. [m]

    Returns
    -------
    (...) array
        [1]

    Notes
    -----
    Plane sections stay plane; times a fibre's modulus it is its stress.

    Source: unsymmetric bending; any text on strength of materials.
    """
    middle_x, middle_z = centre(stretching)
    axial, _, _, xx, zz, xz = moments_about(stretching, middle_x, middle_z)
    whole = xx * zz - xz * xz
    a = (zz * np.asarray(loads.chord_moment) - xz * np.asarray(loads.flap_moment)) / whole
    b = (xx * np.asarray(loads.flap_moment) - xz * np.asarray(loads.chord_moment)) / whole
    strain: Floats = np.asarray(loads.pull) / axial + a * (x - middle_x) + b * (z - middle_z)
    return strain


def shear_strain(
    warping: SectionWarping, section: int, elements: Integers, along: Floats, across: Floats, loads: SectionLoads
) -> Floats:
    """Shear of the section's plane at places in its elements, from torque and both forces.

    Twist per length ``t = T / GJ``; ``g = t (grad w + (z, -x)) + F_x grad p_x + F_z grad p_z``.

    Parameters
    ----------
    warping : SectionWarping
        Solved. [-]
    section : int
        Which of its sections. [-]
    elements : (p,) array
        Numbers of elements. [-]
    along, across : (p,) arrays
        Place within the element, from -1 to 1. [-]
    loads : SectionLoads
        Numbers, or arrays with a value for each place. [-]

    Returns
    -------
    (p, 2) array
        Aft and up; times a part's shear modulus it is its stress. [1]

    Notes
    -----
    At an inward corner the fields grow without bound as elements get smaller: ask a little away from it.

    Source: B. de Saint-Venant, as in S. P. Timoshenko, J. N. Goodier, Theory of Elasticity (from memory).
    """
    corner = warping.mesh.nodes[section, warping.mesh.elements[elements]]  # (p, 9, 2)
    value, slope = shape_slopes(along, across)
    by_place = np.linalg.solve(slope @ corner, slope)  # (p, 2, 9)
    grown = by_place @ warping.field[section, warping.mesh.elements[elements]]  # (p, 2, 3)
    middle = np.array(centre(warping.stretching[section]))
    away = (value[:, None] @ corner)[:, 0] - middle
    twisted = grown[..., TWIST] + np.stack((away[:, 1], -away[:, 0]), axis=-1)
    parts = (
        (np.asarray(loads.torque) / warping.torsion[section], twisted),
        (np.asarray(loads.force_aft), grown[..., AFT]),
        (np.asarray(loads.force_up), grown[..., UP]),
    )
    strain: Floats = sum((size[..., None] * field for size, field in parts), np.zeros_like(twisted))
    return strain


def shear_flow(
    warping: SectionWarping, section: int, elements: Integers, shear: Floats, loads: SectionLoads, through: Through
) -> Floats:
    """Shear flow in the middle of elements: the shear along a wall, added up through its thickness.

    ``q = integral of t . along dn``. The layers of a wall add.

    Parameters
    ----------
    warping : SectionWarping
        Solved. [-]
    section : int
        Which of its sections. [-]
    elements : (p,) array
        Numbers of elements. [-]
    shear : (m,) array
        Shear moduli of the materials the mesh's layers number. [Pa]
    loads : SectionLoads
        Numbers. [-]
    through : {"rows", "columns"}
        Which way the wall's thickness runs: across its rows of elements, as in a skin, or across its columns, as in a
        web. [-]

    Returns
    -------
    (p,) array
        Along the other way, as the element's places increase. [N/m]

    Notes
    -----
    Three points through an element: exact for a field of the third order.

    Source: definition; no source needed.
    """
    corner = warping.mesh.nodes[section, warping.mesh.elements[elements]]
    modulus, count = shear[warping.mesh.layers[elements]], len(elements)
    total = np.zeros(count)
    for at, weight in zip((-np.sqrt(0.6), 0.0, np.sqrt(0.6)), (5.0 / 9.0, 8.0 / 9.0, 5.0 / 9.0), strict=True):
        middle, moved = np.zeros(count), np.full(count, at)
        along, across = (middle, moved) if through == "rows" else (moved, middle)
        _, slope = shape_slopes(along, across)
        sides = slope @ corner  # (p, 2, 2): how the place moves along and across the element
        line = sides[:, 0] if through == "rows" else sides[:, 1]
        area = np.abs(sides[:, 0, 0] * sides[:, 1, 1] - sides[:, 0, 1] * sides[:, 1, 0])
        strain = shear_strain(warping, section, elements, along, across, loads)
        total += weight * modulus * (strain * line).sum(-1) * area / (line * line).sum(-1)
    return total
