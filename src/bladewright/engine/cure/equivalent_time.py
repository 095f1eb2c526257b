"""Minutes at one temperature that count as much as a history, for a single thermally activated rate."""

import math

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing
from bladewright.engine.cure.kelvin import GAS_CONSTANT, require_kelvin

#: points of the quadrature on a flat step, and one more for each e-fold of the rate over a step: 1e-12 (tests)
POINTS = 6


def equivalent_rate(temperature: Floats, energy: float, reference: float) -> Floats:
    """How many times as fast as at the reference temperature: ``exp(-E/R (1/T - 1/T_ref))``.

    Parameters
    ----------
    temperature : (...) array
        [K]
    energy : float
        Activation energy. [J/mol]
    reference : float
        Temperature at which the rate counts as one. [K]

    Returns
    -------
    array
        [1]

    Raises
    ------
    OutsideValidity
        If a temperature cannot be one of a cure in kelvin.

    Notes
    -----
    One activation energy for the whole cure: a way of counting, not a cure model. The energy is entered.

    Source: S. Arrhenius, Z. Phys. Chem. 4, 1889 (from memory).
    """
    require_kelvin(temperature, "temperature")
    require_kelvin(np.array(reference), "reference")
    rate: Floats = np.exp(-energy / GAS_CONSTANT * (1.0 / np.asarray(temperature) - 1.0 / reference))
    return rate


def equivalent_time(seconds: Floats, temperature: Floats, energy: float, reference: float) -> Floats:
    """Time at the reference temperature that counts as much as the history so far, at every sample.

    Between two samples the temperature goes straight, and the rate is integrated along it by Gauss's points, as many
    as the steepest step needs.

    Parameters
    ----------
    seconds : (t,) array
        Times of the samples, increasing. [s]
    temperature : (..., t) array
        Any number of histories over these times. [K]
    energy : float
        Activation energy. [J/mol]
    reference : float
        Temperature at which a second counts as a second. [K]

    Returns
    -------
    array
        Of the shape of ``temperature``, zero at the first sample. [s]

    Raises
    ------
    StationOrder
        If the times do not increase.
    OutsideValidity
        If a temperature cannot be one of a cure in kelvin.

    Notes
    -----
    Exact for a history that goes straight between samples; a trapezium over samples a minute apart is 0.02 min off
    on a usual ramp.

    Source: elementary; closed form by the exponential integral in M. Abramowitz, I. A. Stegun, Handbook of
    Mathematical Functions, 1964, ch. 5 (from memory), against which it is tested.
    """
    require_increasing(seconds, "seconds")
    require_kelvin(temperature, "temperature")
    start, end = temperature[..., :-1], temperature[..., 1:]
    folds = energy / GAS_CONSTANT * np.abs(1.0 / start - 1.0 / end)
    points, weights = np.polynomial.legendre.leggauss(POINTS + math.ceil(float(folds.max(initial=0.0))))
    total = np.zeros_like(start)
    for point, weight in zip(points, weights, strict=True):
        along = start + (end - start) * 0.5 * (1.0 + point)
        total += 0.5 * weight * equivalent_rate(along, energy, reference)
    counted = np.zeros(temperature.shape)
    np.cumsum(total * np.diff(seconds), axis=-1, out=counted[..., 1:])
    return counted
