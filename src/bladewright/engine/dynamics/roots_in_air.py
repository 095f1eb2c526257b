"""How a structure given by its matrices swings in the air: roots, and whether a wake moves them."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Bools, Complexes, Floats
from bladewright.engine.dynamics.lift_deficiency import returning_wake
from bladewright.engine.dynamics.strip_air import AirMatrices, Numbers, StripAir, Strips, air_matrices
from bladewright.errors import OutsideValidity

STEPS = 40  # of the frequency a wake is taken at
SETTLED = 1e-6  # by which it moves at the last, of itself
WORST_CONDITION = 1e12  # of the mass; beyond it a root keeps fewer than four figures


@dataclass(frozen=True, slots=True)
class Structure:
    """Everything that is not air, of as many degrees of freedom as there are rows."""

    mass: Floats  # (m, m) [kg]
    damping: Floats  # (m, m) structural and gyroscopic [N s/m]
    stiffness: Floats  # (m, m) elastic and centrifugal [N/m]


@dataclass(frozen=True, slots=True)
class Roots:
    """Motions that go as ``exp(root t)``, in order of frequency; of a pair the one that turns forward."""

    values: Complexes  # (k,) growth, and frequency as the imaginary part [rad/s]
    shapes: Complexes  # (m, k) of the degrees of freedom [-]
    settled: Bools  # (k,) whether the frequency the wake is taken at settled; true without wake

    @property
    def growth(self) -> Floats:
        """Below zero: dies out. [1/s]"""
        return np.asarray(self.values.real)

    @property
    def frequency(self) -> Floats:
        """[rad/s]"""
        return np.asarray(self.values.imag)

    @property
    def damping(self) -> Floats:
        """Share of critical; below zero it grows. [1]"""
        size = np.abs(self.values)
        return np.asarray(-self.values.real / np.where(size > 0.0, size, 1.0))


def roots_in_air(structure: Structure, air: StripAir, strips: Strips, follow: float = 0.0) -> Roots:
    """Growth and frequency of every motion, with the wake the air is said to have.

    With a wake each motion is solved at the lift its own frequency leaves, over and over until it no longer moves.

    Parameters
    ----------
    structure : Structure
        [-]
    air : StripAir
        [-]
    strips : Strips
        [-]
    follow : float, optional
        Phase by which a blade's swing is ahead of that of the blade before it; half a turn where two blades swing in
        turn. Only the returning wake asks. [rad]

    Returns
    -------
    Roots

    Raises
    ------
    OutsideValidity
        If the mass, with that of the air, is not one a blade can have.

    Notes
    -----
    Exact where the motion neither grows nor dies, which is where flutter begins; elsewhere the wake is that of steady
    swinging. A root without frequency keeps all of its lift: a slow motion has time to build it.

    Source: own iteration on the common frequency; T. Theodorsen, I. E. Garrick, NACA Report 685, 1940 (from memory)
    for a wake in a flutter equation.
    """
    values, shapes = _solved(structure, air_matrices(air, strips))
    settled = np.ones(values.size, dtype=bool)
    if air.effects.wake == "none":
        return Roots(values, shapes, settled)
    for at in np.flatnonzero(values.imag > 0.0):
        values[at], shapes[:, at], settled[at] = _with_wake(structure, air, strips, follow, values[at], shapes[:, at])
    order = np.argsort(values.imag, kind="stable")
    return Roots(values[order], shapes[:, order], settled[order])


def _with_wake(
    structure: Structure, air: StripAir, strips: Strips, follow: float, value: complex, shape: Complexes
) -> tuple[complex, Complexes, bool]:
    """One motion, its wake taken at its own frequency."""
    frequency = value.imag
    for _ in range(STEPS):
        values, shapes = _solved(structure, air_matrices(air, strips, _kept(air, strips, follow, frequency)))
        alike = np.abs(shape.conj() @ structure.mass @ shapes) / np.sqrt(
            np.einsum("ik,ij,jk->k", shapes.conj(), structure.mass, shapes).real
        )
        near = np.exp(-np.abs(values - value) / np.abs(value))  # two shapes alike are told apart by their root
        best = int(np.argmax(np.where(values.imag > 0.0, alike * near, 0.0)))
        value, shape = complex(values[best]), shapes[:, best]
        if value.imag <= 0.0:
            return value, shape, False
        if abs(value.imag - frequency) <= SETTLED * value.imag:
            return value, shape, True
        frequency = 0.5 * (frequency + value.imag)
    return value, shape, False


def _kept(air: StripAir, strips: Strips, follow: float, frequency: float) -> Complexes:
    """Share of the lift the wake leaves along the blade."""
    half = 0.5 * np.interp(strips.y, air.y, air.chord)
    slow = frequency * half / strips.air_speed
    between = 2.0 * np.pi / (strips.rotor_speed * air.blades) if strips.rotor_speed > 0.0 else np.inf
    if air.effects.wake == "shed" or not np.isfinite(between):
        return returning_wake(slow, np.full_like(slow, np.inf), np.zeros_like(slow))
    return returning_wake(slow, air.inflow * between / half, np.full_like(slow, frequency * between - follow))


def _solved(structure: Structure, air: AirMatrices) -> tuple[Complexes, Complexes]:
    """Roots and shapes, of a pair the one that turns forward, in order of frequency."""
    mass = structure.mass + air.mass
    condition = float(np.linalg.cond(mass))
    if not condition < WORST_CONDITION:
        raise OutsideValidity(
            "the mass of the blade is so uneven that its motions cannot be told apart", field="mass",
            value=condition, allowed=f"a condition below {WORST_CONDITION:.0e}",
            fix="look for a station with next to no mass or inertia",
        )  # fmt: skip
    values, shapes = np.linalg.eig(
        state_matrix(mass, structure.damping + air.damping, structure.stiffness + air.stiffness)
    )
    forward = values.imag > -np.abs(values) * 1e-12
    values, shapes = values[forward], shapes[: mass.shape[0], forward]
    order = np.argsort(values.imag, kind="stable")
    return values[order].astype(np.complex128), shapes[:, order].astype(np.complex128)


def state_matrix(mass: Floats, damping: Numbers, stiffness: Numbers) -> Numbers:
    """Of first order: places, then speeds.

    Parameters
    ----------
    mass, damping, stiffness : (..., m, m) arrays
        [kg, N s/m, N/m]

    Returns
    -------
    (..., 2 m, 2 m) array
        [1/s and its powers]

    Notes
    -----
    Source: elementary.
    """
    count = mass.shape[-1]
    state = np.zeros((*stiffness.shape[:-2], 2 * count, 2 * count), dtype=np.result_type(damping, stiffness))
    state[..., :count, count:] = np.eye(count)
    state[..., count:, :count] = -np.linalg.solve(mass, stiffness)
    state[..., count:, count:] = -np.linalg.solve(mass, damping)
    return state
