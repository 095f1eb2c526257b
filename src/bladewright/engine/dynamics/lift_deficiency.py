"""How much of its lift a swinging section keeps, because the wake it sheds holds the air back."""

import numpy as np
from scipy import special

from bladewright.engine.arrays import Complexes, Floats, require_finite
from bladewright.errors import BadInput


def shed_wake(reduced_frequency: Floats) -> Complexes:
    """Lift of a section that swings in still air over the lift that follows at once.

    ``C = H_1/(H_1 + i H_0)``, Hankel functions of the second kind of ``k``, motion going as ``exp(i w t)``.

    Parameters
    ----------
    reduced_frequency : array
        Frequency times half the chord over air speed. [1]

    Returns
    -------
    array
        One where nothing swings. [1]

    Raises
    ------
    BadInput
        If a reduced frequency is less than nothing.

    Notes
    -----
    Thin section, flat wake going straight aft, any frequency.

    Source: T. Theodorsen, NACA Report 496, 1935 (from memory).
    """
    return returning_wake(reduced_frequency, np.full(reduced_frequency.shape, np.inf), np.zeros(1))


def returning_wake(reduced_frequency: Floats, spacing: Floats, turn: Floats) -> Complexes:
    """The same where the wakes of earlier passages lie below the blade, one under another.

    ``C = (H_1 + 2 J_1 S)/(H_1 + i H_0 + 2 (J_1 + i J_0) S)``, ``S = 1/(exp(k h + i t) - 1)``.

    Parameters
    ----------
    reduced_frequency : array
        Frequency times half the chord over air speed. [1]
    spacing : array
        Between one wake and the next, over half the chord; infinite leaves the blade's own wake alone. [1]
    turn : array
        By how much a blade's swing is ahead of what the blade before it did when it passed here: frequency times the
        time between two blades, less the phase by which the blades follow each other. [rad]

    Returns
    -------
    array
        One where nothing swings and no wake lies below. [1]

    Raises
    ------
    BadInput
        If a reduced frequency is less than nothing, or a spacing nothing.

    Notes
    -----
    Flat layers without end under a section; hover or climb, no wake blown aside. Low where a whole turn passes between
    blades, since the layers then lie in step.

    Source: R. G. Loewy, J. Aeronaut. Sci. 24, 1957 (from memory); re-derived as a sum of layers.
    """
    require_finite(reduced_frequency, "reduced_frequency")
    require_finite(turn, "turn")
    for name, values, bad in (
        ("reduced_frequency", reduced_frequency, reduced_frequency < 0.0),
        ("spacing", spacing, ~(spacing > 0.0)),
    ):
        if np.any(bad):
            at = int(np.argmax(np.ravel(bad)))
            worst = float(np.ravel(values)[at])
            raise BadInput("is too small", field=name, row=at + 1, value=worst, allowed="more than zero")
    still = reduced_frequency == 0.0
    k = np.where(still, 1.0, reduced_frequency)
    layer = np.exp(-(k * spacing) - 1j * turn)  # the next wake as this one sees it
    own = (1.0 - layer) * special.hankel2(1, k)
    behind = (1.0 - layer) * 1j * special.hankel2(0, k)
    swung = own + 2.0 * layer * special.jv(1, k)
    kept = swung / (swung + behind + 2j * layer * special.jv(0, k))
    # without swing the layers are those of a steady wake where they lie in step, and cancel where they do not
    steady = np.where(np.isclose(np.exp(1j * turn), 1.0), 1.0 / (1.0 + np.pi / spacing), 1.0)
    return np.asarray(np.where(still, steady, kept), dtype=np.complex128)
