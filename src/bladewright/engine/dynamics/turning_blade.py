"""All that turning does to a blade that moves: the beam's own matrices, the steady bending of offset mass, Coriolis."""

from dataclasses import dataclass, replace

import numpy as np
from scipy.interpolate import make_interp_spline

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_matrices import Fields, blade_matrices

FINER = 8  # parts of each stretch between stations in which mass times place is taken as straight
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

    def stiffness(self, rotor_speed: float) -> Floats:
        """At a rotor speed [rad/s]. (m, m)"""
        whole: Floats = self.elastic + rotor_speed**2 * self.centrifugal
        return whole


def turning_blade(
    beam: BladeBeam, root: Root, pattern: Pattern, pitch: float = 0.0, *, chordwise: bool = False
) -> TurningBlade:
    """The blade as its room gives it, with what flutter needs besides.

    Steady bending: mass beside the axis bends a turning blade by ``y S`` in the plane and by ``P`` out of it, ``S`` the
    integral outboard of ``m X``, ``P`` that of ``m y Z``; twisting a bent blade costs ``W**2 (y S z'' - P v'') p``.
    It stands in place of what the pull alone does where it passes beside the axis. Coriolis: ``2 W`` times the integral
    of ``p' (I_ZZ s_w + I_XZ s_v) + v' m (Z s_w + X s_v)``, less its transpose, ``s`` the tilt of sections.

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
    require_finite(np.array([pitch]), "pitch")
    bending = beam if chordwise else replace(beam, chordwise=STIFF * beam.chordwise)
    matrices = blade_matrices(bending, root, pattern, pitch)
    fields = matrices.fields
    bent = _bent(beam, fields, pitch) - matrices.pull * np.stack(
        _turned(beam, fields.y, pitch, beam.elastic_x, beam.elastic_z)
    )
    told = fields.weights > 0.0  # others are told of for weights and stations only
    apart = (fields.flap_curvature * (bent[0] * fields.weights)) @ fields.torsion.T
    apart = apart - (fields.chordwise_curvature * (bent[1] * fields.weights)) @ fields.torsion.T
    return TurningBlade(
        mass=matrices.mass,
        elastic=matrices.elastic,
        centrifugal=matrices.centrifugal + apart + apart.T,
        coriolis=_coriolis(beam, fields, pitch),
        y=fields.y[told],
        length=fields.weights[told],
        flap=fields.flap[:, told],
        flap_slope=fields.flap_slope[:, told],
        chordwise=fields.chordwise[:, told],
        torsion=fields.torsion[:, told],
        root_twist=fields.root_twist,
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


def _turned(beam: BladeBeam, y: Floats, pitch: float, x: Floats, z: Floats) -> tuple[Floats, Floats]:
    """A place of the sections, aft in the plane of rotation and above it."""
    angle = np.interp(y, beam.y, beam.twist) + pitch
    across, up = np.interp(y, beam.y, x), np.interp(y, beam.y, z)
    return across * np.cos(angle) + up * np.sin(angle), up * np.cos(angle) - across * np.sin(angle)


def _bent(beam: BladeBeam, fields: Fields, pitch: float) -> Floats:
    """Moments a blade carries about the feathering axis, in the plane and out of it, for a rotor speed of one."""
    fine = np.unique(np.linspace(beam.y[:-1], beam.y[1:], FINER + 1))
    mass = np.interp(fine, beam.y, beam.mass_per_length)
    aft, above = _turned(beam, fine, pitch, beam.mass_x, beam.mass_z)
    first, second = (
        whole(fine[-1]) - whole(fields.y)
        for whole in (make_interp_spline(fine, mass * part, k=1).antiderivative() for part in (aft, fine * above))
    )
    for weight in beam.masses:
        at, inboard = np.array([weight.y]), fields.y <= weight.y
        one = np.ones_like(beam.y)
        aft, above = _turned(beam, at, pitch, weight.x * one, weight.z * one)
        first = first + weight.mass * aft * inboard
        second = second + weight.mass * weight.y * above * inboard
    return np.stack([fields.y * first, second])


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
