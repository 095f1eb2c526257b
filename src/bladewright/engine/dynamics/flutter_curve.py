"""Damping and frequency of each motion of a blade in its air, against rotor speed."""

from dataclasses import dataclass

import numpy as np
from scipy.optimize import linear_sum_assignment

from bladewright.engine.arrays import Bools, Complexes, Floats, require_finite, require_increasing
from bladewright.engine.dynamics.blade_beam import BladeBeam, Pattern, Root
from bladewright.engine.dynamics.blade_in_air import SHAPES, BladeInAir, Motion, blade_in_air, most_energy
from bladewright.engine.dynamics.divergence import divergence_factor
from bladewright.engine.dynamics.roots_in_air import Roots, roots_in_air
from bladewright.engine.dynamics.strip_air import StripAir, air_matrices
from bladewright.engine.dynamics.turning_blade import turning_blade
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class FlutterCurve:
    """Each motion followed from speed to speed by its shape."""

    rotor_speeds: Floats  # (s,) [rad/s]
    growth: Floats  # (s, k) below zero: dies out [1/s]
    frequency: Floats  # (s, k) nothing where it does not swing [rad/s]
    damping: Floats  # (s, k) share of critical [1]
    moves: tuple[Motion, ...]  # (k,) what most of its energy is in at the least speed
    settled: Bools  # (s, k) whether the frequency a wake is taken at settled; true without wake
    divergence: Floats  # (s,) by which the air's stiffness may be multiplied; infinite where nothing does it [1]


def flutter_curve(
    beam: BladeBeam,
    root: Root,
    pattern: Pattern,
    air: StripAir,
    rotor_speeds: Floats,
    *,
    pitch: float = 0.0,
    forward_speed: float = 0.0,
    chordwise: bool = False,
    count: int = SHAPES,
) -> FlutterCurve:
    """Growth and frequency of the lowest motions at each rotor speed.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    root : Root
        [-]
    pattern : "collective" or "cyclic"
        What the blades do together. [-]
    air : StripAir
        With the wake it says. [-]
    rotor_speeds : (s,) array
        Increasing. [rad/s]
    pitch : float, optional
        Of the lever. [rad]
    forward_speed : float, optional
        Added to the air of every station, as if the advancing blade stayed there: a screen. [m/s]
    chordwise : bool, optional
        Whether the blade bends along its chord too; see ``turning_blade``. [-]
    count : int, optional
        Shapes kept, and motions told. [-]

    Returns
    -------
    FlutterCurve

    Raises
    ------
    BadInput
        If there is no speed, or one is nothing or no number.

    Notes
    -----
    Of a motion that has stopped swinging the half that dies out slower is told. With a wake, see ``roots_in_air``;
    blades that swing in turn are taken to follow each other one way round, which with two is all there is.

    Source: docs/theory/flutter.
    """
    if rotor_speeds.size == 0:
        raise BadInput("there is none", field="rotor_speeds", value="nothing", allowed="at least one")
    require_finite(rotor_speeds, "rotor_speeds")
    require_increasing(rotor_speeds, "rotor_speeds")
    turning = turning_blade(beam, root, pattern, pitch, chordwise=chordwise)
    follow = 2.0 * np.pi / air.blades if pattern == "cyclic" else 0.0
    told: list[tuple[Complexes, Bools]] = []
    factors: list[float] = []
    moves: tuple[Motion, ...] = ()
    before: Complexes | None = None
    for speed in rotor_speeds.tolist():
        blade = blade_in_air(turning, speed, forward_speed, count)
        roots = _one_of_each(roots_in_air(blade.structure, air, blade.strips, follow))
        shapes = blade.basis @ roots.shapes
        order = np.arange(roots.values.size) if before is None else _followed(before, shapes, turning.mass)
        if before is None:
            moves = tuple(most_energy(blade.strips, beam, roots.shapes[:, at]) for at in order)
        before = shapes[:, order]
        told.append((roots.values[order], roots.settled[order]))
        factors.append(_divergence(blade, air))
    values = np.stack([one for one, _ in told])
    size = np.abs(values)
    return FlutterCurve(
        rotor_speeds=rotor_speeds,
        growth=values.real,
        frequency=values.imag,
        damping=-values.real / np.where(size > 0.0, size, 1.0),
        moves=moves,
        settled=np.stack([one for _, one in told]),
        divergence=np.array(factors),
    )


def _one_of_each(roots: Roots) -> Roots:
    """As many as there are shapes: of two halves of a motion that has stopped swinging the slower to die out."""
    count = roots.shapes.shape[0]
    still = np.flatnonzero(roots.values.imag <= 0.0)
    swinging = np.flatnonzero(roots.values.imag > 0.0)
    slower = still[np.argsort(-roots.values.real[still], kind="stable")][: count - swinging.size]
    kept = np.concatenate([slower, swinging])
    return Roots(roots.values[kept], roots.shapes[:, kept], roots.settled[kept])


def _followed(before: Complexes, now: Complexes, mass: Floats) -> Floats:
    """For each shape before, which of the shapes now is most like it."""

    def sized(shapes: Complexes) -> Complexes:
        size: Floats = np.sqrt(np.einsum("ik,ij,jk->k", shapes.conj(), mass, shapes).real)
        return np.asarray(shapes / size)

    alike = np.abs(sized(before).conj().T @ mass @ sized(now))
    return np.asarray(linear_sum_assignment(alike, maximize=True)[1])


def _divergence(blade: BladeInAir, air: StripAir) -> float:
    """Lift in step with the twist, so no wake."""
    return divergence_factor(blade.structure.stiffness, np.real(air_matrices(air, blade.strips).stiffness))
