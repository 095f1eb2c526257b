"""Temperatures of a network whose heat was logged, sample by sample, exact in between."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.network import ExactStep, HeatNetwork, exact_step

SAME = 1e-6  # [s] steps of time nearer than this are one


def heated_course(network: HeatNetwork, seconds: Floats, heat: Floats, begun: Floats, held: bool = False) -> Floats:
    """Temperatures of every body at every sample, from heat that goes straight between samples.

    Parameters
    ----------
    network : HeatNetwork
        One, or many along the leading axes. [-]
    seconds : (t,) array
        Times of the samples, increasing. [s]
    heat : (..., t, n) array
        Into each body, that from surroundings of given temperature included. [W]
    begun : (..., n) array
        At the first sample. [K]
    held : bool
        Whether each row of heat stands for the time since the row before instead. [-]

    Returns
    -------
    array
        (..., t, n). [K]

    Notes
    -----
    Source: steps of ``network.exact_step``.
    """
    leading = np.broadcast_shapes(network.capacity.shape[:-1], heat.shape[:-2], begun.shape[:-1])
    state = np.broadcast_to(begun, (*leading, begun.shape[-1]))
    out = np.empty((*leading, len(seconds), begun.shape[-1]))
    out[..., 0, :] = state
    steps: dict[int, ExactStep] = {}
    for at, length in enumerate(np.diff(seconds)):
        known = round(length / SAME)
        if known not in steps:
            steps[known] = exact_step(network, float(length))
        step, after = steps[known], heat[..., at + 1, :]
        before = after if held else heat[..., at, :]
        state = _applied(step.carry, state) + _applied(step.held, before) + _applied(step.rising, after - before)
        out[..., at + 1, :] = state
    return out


def _applied(matrix: Floats, vector: Floats) -> Floats:
    found: Floats = np.matmul(matrix, vector[..., None])[..., 0]
    return found
