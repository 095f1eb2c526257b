"""Flutter and divergence of a stiff blade that can only flap about a hinge and twist against its control run.

The quick screen, and the closed form that the blade's own flutter is held to. Everything is by flap inertia, radius
and rotor speed, so it has no units: a rate is per radian of rotation.
"""

from dataclasses import dataclass

import numpy as np
from numpy.polynomial import Polynomial

from bladewright.engine.arrays import Complexes, require_finite
from bladewright.errors import BadInput, OutsideValidity

REAL = 1e-9  # a root whose imaginary part is this small beside the bound is real; rounding of a quartic is far below


@dataclass(frozen=True, slots=True)
class PitchFlap:
    """A stiff blade hinged at the rotor axis; ratios are over its flap inertia, lengths over its radius."""

    lock_number: float  # air density, lift slope, chord, radius**4 over flap inertia [1]
    flap_frequency: float  # turning, per revolution [1]
    pitch_inertia: float  # about the feathering axis over flap inertia [1]
    pitch_damping: float  # of the air, over flap inertia and rotor speed [1]
    control_frequency: float  # pitch against the control run alone, not turning, per revolution [1]
    aerodynamic_centre: float = 0.0  # aft of the feathering axis over radius [1]

    def __post_init__(self) -> None:
        for name in self.__slots__:
            value = getattr(self, name)
            require_finite(np.array([value]), name)
            if name != "aerodynamic_centre" and value < 0.0:
                raise BadInput("is less than nothing", field=name, value=value, allowed="zero or more")
        for name in ("lock_number", "pitch_inertia"):
            if getattr(self, name) == 0.0:
                raise BadInput("is nothing", field=name, value=0.0, allowed="more than zero")

    @property
    def pitch_stiffness(self) -> float:
        """Control run, the blade's own flattening and the lift's arm. [1]"""
        held = self.pitch_inertia * (self.control_frequency**2 + 1.0)
        return held + self.lock_number * self.aerodynamic_centre / 6.0

    @property
    def greatest_offset(self) -> float:
        """The mass offset no blade can reach: all of its mass on one line aft of the axis. [1]"""
        return float(np.sqrt(self.pitch_inertia))


def strip_pitch_damping(lock_number: float, chord: float) -> float:
    """Damping of pitch by the air about the quarter chord, the whole blade's: ``(gamma/32) (c/R)**2``.

    Parameters
    ----------
    lock_number : float
        [1]
    chord : float
        Over the radius, alike along the span. [1]

    Returns
    -------
    float
        Over flap inertia and rotor speed. [1]

    Notes
    -----
    ``-pi rho c**3 V/8`` per length and pitch rate, with a lift slope of ``2 pi``, integrated.

    Source: T. Theodorsen, NACA Report 496, 1935 (from memory), without wake.
    """
    return lock_number / 32.0 * chord**2


def pitch_flap_roots(blade: PitchFlap, mass_offset: float) -> Complexes:
    """How flap and pitch grow and swing: the four roots of the coupled equations.

    ``b'' + (gamma/8) b' + nu**2 b - I_x p'' - (I_x + gamma/8) p = 0`` and
    ``I_f p'' + c p' + (I_f (w**2 + 1) + gamma x_A/6) p - I_x b'' - (gamma x_A/6) b' - I_x b = 0``.

    Parameters
    ----------
    blade : PitchFlap
        [-]
    mass_offset : float
        Integral of mass times place aft times radius, over flap inertia. [1]

    Returns
    -------
    (4,) array
        Real part growth, imaginary part frequency, per radian of rotation; in order of frequency.

    Raises
    ------
    OutsideValidity
        If the blade has more mass offset than its pitch inertia allows.

    Notes
    -----
    Valid for a stiff blade, small motion, lift that follows at once, hover.

    Source: W. Johnson, Helicopter Theory, 1980, ch. 12 (from memory); docs/theory/flutter.
    """
    if abs(mass_offset) >= blade.greatest_offset:
        raise OutsideValidity(
            "so much mass offset needs more pitch inertia than the blade has",
            field="mass_offset",
            value=mass_offset,
            allowed=f"less than {blade.greatest_offset:.6g} either way",
            fix="take the pitch inertia about the feathering axis, not about the centre of mass",
        )
    roots = np.roots([float(part(mass_offset)) for part in _equation(blade)[::-1]])
    order = np.lexsort((roots.real, roots.imag))
    return np.asarray(roots[order], dtype=np.complex128)


def pitch_flap_divergence(blade: PitchFlap) -> float:
    """The mass offset at which the blade twists off without swinging.

    ``I_x (I_x + gamma/8) = nu**2 (I_f (w**2 + 1) + gamma x_A/6)``.

    Parameters
    ----------
    blade : PitchFlap
        [-]

    Returns
    -------
    float
        Integral of mass times place aft times radius, over flap inertia; minus infinity where the aerodynamic centre
        is so far ahead that no mass helps. It may be more than a blade can have. [1]

    Notes
    -----
    Source: W. Johnson, Helicopter Theory, 1980, ch. 12 (from memory); closed form.
    """
    half = blade.lock_number / 16.0
    under = half**2 + blade.flap_frequency**2 * blade.pitch_stiffness
    return float(np.sqrt(under)) - half if under >= 0.0 else -np.inf


def pitch_flap_flutter(blade: PitchFlap) -> float | None:
    """The least mass offset at which a swinging motion stops dying out.

    Where ``a_1 a_2 a_3 - a_4 a_1**2 - a_0 a_3**2`` falls through zero; it is a polynomial in the offset.

    Parameters
    ----------
    blade : PitchFlap
        [-]

    Returns
    -------
    float or None
        Integral of mass times place aft times radius, over flap inertia; None where no blade gets there. [1]

    Notes
    -----
    Source: E. J. Routh, A treatise on the stability of a given state of motion, 1877 (from memory).
    """
    a0, a1, a2, a3, a4 = _equation(blade)
    routh = a1 * a2 * a3 - a4 * a1**2 - a0 * a3**2
    bound = blade.greatest_offset
    roots = routh.roots()
    real = np.sort(roots.real[np.abs(roots.imag) <= REAL * bound])
    falling = routh.deriv()
    for offset in real:
        swings = a1(offset) * a3(offset) > 0.0
        if abs(offset) < bound and swings and falling(offset) < 0.0:
            return float(offset)
    return None


def _equation(blade: PitchFlap) -> tuple[Polynomial, ...]:
    """Coefficients of the equation of the roots, of the lowest power first, each a polynomial in the mass offset."""
    flap_air, lift_arm = blade.lock_number / 8.0, blade.lock_number * blade.aerodynamic_centre / 6.0
    flap, inertia = blade.flap_frequency**2, blade.pitch_inertia
    damping, stiffness = blade.pitch_damping, blade.pitch_stiffness
    # a pitch angle lifts by flap_air and by the offset itself
    return (
        Polynomial([flap * stiffness, -flap_air, -1.0]),
        Polynomial([flap_air * stiffness + flap * damping - lift_arm * flap_air, -lift_arm]),
        Polynomial([stiffness + flap_air * damping + flap * inertia, -flap_air, -2.0]),
        Polynomial([damping + flap_air * inertia, -lift_arm]),
        Polynomial([inertia, 0.0, -1.0]),
    )
