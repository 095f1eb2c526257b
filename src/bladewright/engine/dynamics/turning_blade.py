"""All that turning does to a blade that moves: the beam's own matrices and Coriolis."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_matrices import BladeMatrices, Fields, blade_matrices

#: on chordwise bending that is to take no part: its first motion then lies thirty times higher, above all that flutters
STIFF = 1e3


@dataclass(frozen=True, slots=True)
class TurningBlade:
    """A blade without air at any rotor speed W: stiffness ``elastic + W**2 centrifugal``, damping ``W coriolis``."""

    mass: Floats  # (m, m) [kg]
    elastic: Floats  # (m, m) [N/m]
    centrifugal: Floats  # (m, m) [kg]
    coriolis: Floats  # (m, m) antisymmetric [kg]
    y: Floats  # (q,) where the shapes below are told [m]
    length: Floats  # (q,) of blade each place stands for [m]
    flap: Floats  # (m, q) of the feathering axis, up [m per unit]
    flap_slope: Floats  # (m, q) [1 per unit]
    chordwise: Floats  # (m, q) aft [m per unit]
    torsion: Floats  # (m, q) nose-up [rad per unit]
    root_twist: Floats  # (m,) nose-up where the control run takes hold [rad per unit]
    root_flap: Floats  # (m,) tilt at the flap hinge; nought where there is none [rad per unit]

    def stiffness(self, rotor_speed: float) -> Floats:
        """At a rotor speed [rad/s]. (m, m)"""
        whole: Floats = self.elastic + rotor_speed**2 * self.centrifugal
        return whole


def turning_blade(
    beam: BladeBeam, root: Root, pattern: Pattern, pitch: float = 0.0, *, chordwise: bool = False
) -> TurningBlade:
    """The blade as its room gives it, with what flutter needs besides.

    Coriolis: ``2 W`` times the integral of ``p' (I_ZZ s_w + I_XZ s_v) + v' m (Z s_w + X s_v)``, less its transpose,
    ``s`` the tilt of sections.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    root : Root
        [-]
    pattern : "collective" or "cyclic"
        [-]
    pitch : float, optional
        Of the lever, added to the twist. [rad]
    chordwise : bool, optional
        Whether it bends along its chord too. What the air does to that, and what steady coning and lift couple it to,
        is not here, so that a chordwise motion that grows says little. [-]

    Returns
    -------
    TurningBlade

    Raises
    ------
    BadInput
        If the pitch is no number.

    Notes
    -----
    About a straight blade: what steady coning, lag and lift would add is left out. With both a blade that feathers
    freely can lean over with the whole rotor at no cost, as it must, wherever its mass lies.

    Source: re-derived in docs/theory/flutter from kinetic energy and the balance of moments.
    """
    (blade,) = turning_blades([beam], root, pattern, pitch, chordwise=chordwise)
    return blade


def turning_blades(
    beams: Sequence[BladeBeam], root: Root, pattern: Pattern, pitch: float = 0.0, *, chordwise: bool = False
) -> tuple[TurningBlade, ...]:
    """One blade with its mass in several places along the chord: its shapes and its elasticity are found once.

    Parameters
    ----------
    beams : sequence of BladeBeam
        Unlike only in where their mass lies along the chord. [-]
    root, pattern, pitch, chordwise
        As in ``turning_blade``. [-]

    Returns
    -------
    tuple of TurningBlade
        One for each.

    Raises
    ------
    BadInput
        If the pitch is no number.

    Notes
    -----
    Source: as ``turning_blade``.
    """
    require_finite(np.array([pitch]), "pitch")
    found: list[BladeMatrices] = []
    for beam in beams:
        bending = beam if chordwise else replace(beam, chordwise=STIFF * beam.chordwise)
        found.append(blade_matrices(bending, root, pattern, pitch, alike=found[0] if found else None))
    return tuple(_turning(beam, matrices, pitch) for beam, matrices in zip(beams, found, strict=True))


def _turning(beam: BladeBeam, matrices: BladeMatrices, pitch: float) -> TurningBlade:
    fields = matrices.fields
    told = slice(matrices.stations.start)  # the others are told of for weights and stations only
    return TurningBlade(
        mass=matrices.mass,
        elastic=matrices.elastic,
        centrifugal=matrices.turning,
        coriolis=_coriolis(beam, fields, pitch),
        y=fields.y[told],
        length=fields.weights[told],
        flap=fields.flap[:, told],
        flap_slope=fields.flap_slope[:, told],
        chordwise=fields.chordwise[:, told],
        torsion=fields.torsion[:, told],
        root_twist=fields.root_twist,
        root_flap=fields.root_flap,
    )


def narrowed(blade: TurningBlade, basis: Floats) -> TurningBlade:
    """The same blade in fewer shapes.

    Parameters
    ----------
    blade : TurningBlade
        [-]
    basis : (m, k) array
        Shapes, in its degrees of freedom. [-]

    Returns
    -------
    TurningBlade

    Notes
    -----
    Source: Rayleigh and Ritz; Lord Rayleigh, The theory of sound, 1877 (from memory).
    """
    mass, elastic, centrifugal, coriolis = (
        basis.T @ part @ basis for part in (blade.mass, blade.elastic, blade.centrifugal, blade.coriolis)
    )
    return replace(
        blade,
        mass=mass,
        elastic=elastic,
        centrifugal=centrifugal,
        coriolis=coriolis,
        flap=basis.T @ blade.flap,
        flap_slope=basis.T @ blade.flap_slope,
        chordwise=basis.T @ blade.chordwise,
        torsion=basis.T @ blade.torsion,
        root_twist=basis.T @ blade.root_twist,
        root_flap=basis.T @ blade.root_flap,
    )


def clamped(blade: TurningBlade) -> TurningBlade:
    """The same blade where its flap hinge does not turn: of a teetering rotor, what all blades do alike.

    Parameters
    ----------
    blade : TurningBlade
        As found, in the unknowns of its own beam: one of them is the turn about the hinge. [-]

    Returns
    -------
    TurningBlade

    Notes
    -----
    Source: elementary.
    """
    rest = np.flatnonzero(blade.root_flap == 0.0)
    square = np.ix_(rest, rest)
    return replace(
        blade,
        mass=blade.mass[square],
        elastic=blade.elastic[square],
        centrifugal=blade.centrifugal[square],
        coriolis=blade.coriolis[square],
        flap=blade.flap[rest],
        flap_slope=blade.flap_slope[rest],
        chordwise=blade.chordwise[rest],
        torsion=blade.torsion[rest],
        root_twist=blade.root_twist[rest],
        root_flap=blade.root_flap[rest],
    )


def held_stiffer(blade: TurningBlade, by: float) -> TurningBlade:
    """The same blade on a control run that is stiffer.

    Parameters
    ----------
    blade : TurningBlade
        Not one whose pitch is held fast: that has nothing to stiffen. [-]
    by : float
        About the feathering axis. [N m/rad]

    Returns
    -------
    TurningBlade

    Notes
    -----
    Source: elementary.
    """
    return replace(blade, elastic=blade.elastic + by * np.outer(blade.root_twist, blade.root_twist))


def _coriolis(beam: BladeBeam, fields: Fields, pitch: float) -> Floats:
    """For a rotor speed of one; weights at the quadrature point nearest."""
    mass, chordwise, normal, product = (
        np.interp(fields.y, beam.y, one) * fields.weights
        for one in (beam.mass_per_length, beam.chordwise_inertia, beam.normal_inertia, beam.product_of_inertia)
    )
    x, z = (mass * np.interp(fields.y, beam.y, one) for one in (beam.mass_x, beam.mass_z))
    for weight in beam.masses:
        at = int(np.argmin(np.abs(fields.y - weight.y)))
        parts = (weight.x, weight.z, weight.x**2, weight.z**2, weight.x * weight.z)
        for array, part in zip((x, z, chordwise, normal, product), parts, strict=True):
            array[at] += weight.mass * part
    angle = np.interp(fields.y, beam.y, beam.twist) + pitch
    sine, cosine = np.sin(angle), np.cos(angle)
    square = normal * cosine**2 + chordwise * sine**2 - product * np.sin(2.0 * angle)
    crossed = (normal - chordwise) * sine * cosine + product * np.cos(2.0 * angle)
    across = (fields.torsion * square + fields.chordwise * (z * cosine - x * sine)) @ fields.flap_slope.T
    across = across + (fields.torsion * crossed + fields.chordwise * (x * cosine + z * sine)) @ fields.chordwise_slope.T
    return np.asarray(2.0 * (across - across.T))
