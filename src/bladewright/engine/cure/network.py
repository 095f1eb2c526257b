"""Bodies each of one temperature that pass heat to each other and to the room: where they settle, in which modes."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

SMALL = 0.01  # below this the series of the step's weights is better than their closed form


@dataclass(frozen=True, slots=True)
class HeatNetwork:
    """Any number of networks alike in shape, along the leading axes."""

    capacity: Floats  # (..., n) [J/K]
    between: Floats  # (..., n, n), symmetric, nothing on the diagonal [W/K]
    to_ambient: Floats  # (..., n) [W/K]

    def __post_init__(self) -> None:
        symmetric = np.array_equal(self.between, np.swapaxes(self.between, -1, -2))
        if not (symmetric and (self.between >= 0.0).all() and not np.diagonal(self.between, 0, -2, -1).any()):
            raise BadInput("is no conductance", field="between", allowed="symmetric, not negative, diagonal zero")
        if not ((self.capacity > 0.0).all() and (self.to_ambient >= 0.0).all()):
            raise BadInput(
                "cannot be", field="capacity, to_ambient", allowed="capacity above 0, conductance not negative"
            )

    @property
    def conductance(self) -> Floats:
        """What a temperature sends away from each body: ``C dT/dt = -G T + Q``. [W/K]"""
        kept = self.between.sum(axis=-1) + self.to_ambient
        matrix: Floats = kept[..., None] * np.eye(kept.shape[-1]) - self.between
        return matrix


@dataclass(frozen=True, slots=True)
class HeatModes:
    """``T = shapes z`` with ``dz/dt = -rates z + shapes^T Q``."""

    rates: Floats  # (..., n) rising [1/s]
    shapes: Floats  # (..., n, n) a column for each mode [K]


@dataclass(frozen=True, slots=True)
class ExactStep:
    """``T_1 = carry T_0 + held Q_0 + rising (Q_1 - Q_0)`` for heat that goes straight over the step."""

    seconds: float  # [s]
    carry: Floats  # (..., n, n) [1]
    held: Floats  # (..., n, n) [K/W]
    rising: Floats  # (..., n, n) [K/W]


def steady_temperature(network: HeatNetwork, power: Floats, ambient: float) -> Floats:
    """Where everything settles under steady heat.

    Parameters
    ----------
    network : HeatNetwork
        At least one body of which passes heat to the room. [-]
    power : (..., n) array
        Into each body. [W]
    ambient : float
        Of the room. [K]

    Returns
    -------
    array
        [K]

    Notes
    -----
    Source: elementary; heat given is heat lost.
    """
    warmed = np.linalg.solve(network.conductance, np.asarray(power, dtype=np.float64)[..., None])[..., 0]
    return np.asarray(ambient + warmed, dtype=np.float64)


def time_constants(network: HeatNetwork) -> Floats:
    """How quickly what is out of balance dies away, the slowest first.

    Parameters
    ----------
    network : HeatNetwork
        At least one body of which passes heat to the room. [-]

    Returns
    -------
    array
        [s]

    Notes
    -----
    Source: elementary; eigenvalues of the symmetric matrix ``C**-1/2 G C**-1/2``.
    """
    return np.asarray(1.0 / heat_modes(network).rates, dtype=np.float64)


def heat_modes(network: HeatNetwork) -> HeatModes:
    """The parts of a temperature that each die away at a rate of their own.

    Parameters
    ----------
    network : HeatNetwork
        [-]

    Returns
    -------
    HeatModes

    Notes
    -----
    Source: elementary; eigenvectors of the symmetric matrix ``C**-1/2 G C**-1/2``.
    """
    root = np.sqrt(network.capacity)
    rates, shapes = np.linalg.eigh(network.conductance / (root[..., None] * root[..., None, :]))
    return HeatModes(np.maximum(rates, 0.0), shapes / root[..., None])


def exact_step(network: HeatNetwork, seconds: float) -> ExactStep:
    """Matrices that take the temperatures over a step without any error but rounding.

    For heat along a whole log ``course.heated_course`` is quicker; this is for steps that are each another network.

    Parameters
    ----------
    network : HeatNetwork
        [-]
    seconds : float
        [s]

    Returns
    -------
    ExactStep

    Notes
    -----
    ``exp(-x)``, ``(1 - exp(-x))/x`` and ``(1 - (1 - exp(-x))/x)/x`` of every mode's rate times the step.

    Source: exponential of a matrix by its eigenvectors, C. Moler, C. Van Loan, SIAM Review 45, 2003 (from memory).
    """
    modes = heat_modes(network)
    decay = modes.rates * seconds
    held, rising = step_weights(decay)

    def back(weight: Floats, right: Floats) -> Floats:
        made: Floats = (modes.shapes * weight[..., None, :]) @ np.swapaxes(right, -1, -2)
        return made

    outer = modes.shapes * network.capacity[..., None]
    return ExactStep(
        seconds, back(np.exp(-decay), outer), back(seconds * held, modes.shapes), back(seconds * rising, modes.shapes)
    )


def step_weights(decay: Floats) -> tuple[Floats, Floats]:
    """``(1 - exp(-x))/x`` and ``(1 - (1 - exp(-x))/x)/x``, also where x is next to nothing.

    Parameters
    ----------
    decay : (...) array
        Rate times step, not negative. [1]

    Returns
    -------
    tuple of arrays
        [1]

    Notes
    -----
    Source: elementary.
    """
    small = decay < SMALL
    x = np.where(small, 1.0, decay)
    first = -np.expm1(-x) / x
    second = (1.0 - first) / x
    y = np.where(small, decay, 0.0)
    series_first = 1.0 - y / 2.0 * (1.0 - y / 3.0 * (1.0 - y / 4.0 * (1.0 - y / 5.0 * (1.0 - y / 6.0))))
    series_second = 0.5 * (1.0 - y / 3.0 * (1.0 - y / 4.0 * (1.0 - y / 5.0 * (1.0 - y / 6.0))))
    return np.where(small, series_first, first), np.where(small, series_second, second)
