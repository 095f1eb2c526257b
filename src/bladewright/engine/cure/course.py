"""Temperatures of a network whose heat was logged, sample by sample, exact in between."""

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.network import HeatNetwork, heat_modes, step_weights


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
    Each mode by itself, ``z_1 = exp(-x h) z_0 + h p q_0 + h w (q_1 - q_0)``: no error but rounding, whatever the times
    between samples.

    Source: exponential of a matrix by its eigenvectors, C. Moler, C. Van Loan, SIAM Review 45, 2003 (from memory).
    """
    modes = heat_modes(network)
    # a logger's steps are of few lengths, and what is reckoned for one serves all alike
    lengths, alike = np.unique(np.diff(seconds), return_inverse=True)
    decay = modes.rates[..., None, :] * lengths[:, None]
    held_part, rising_part = (lengths[:, None] * weight for weight in step_weights(decay))
    kept, driven = np.exp(-decay), heat @ modes.shapes
    state = np.einsum("...ij,...i->...j", modes.shapes * network.capacity[..., None], begun)
    leading = np.broadcast_shapes(driven.shape[:-2], state.shape[:-1])
    states = np.empty((*leading, len(seconds), state.shape[-1]))
    states[..., 0, :] = state
    for at, one in enumerate(alike):
        after = driven[..., at + 1, :]
        before = after if held else driven[..., at, :]
        moved = held_part[..., one, :] * before + rising_part[..., one, :] * (after - before)
        states[..., at + 1, :] = kept[..., one, :] * states[..., at, :] + moved
    return states @ np.swapaxes(modes.shapes, -1, -2)
