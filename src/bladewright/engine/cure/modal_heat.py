"""Modes of one oven, or of every run's oven, laid out so that thousands of runs go through them quickly."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.network import HeatNetwork, heat_modes, step_weights
from bladewright.engine.cure.oven import HEATERS, MOULD


@dataclass(frozen=True, slots=True)
class ModalHeat:
    """One step of all modes; runs stand last, since that is how a processor reads them."""

    seconds: float  # of the step [s]
    rates: Floats  # (modes, runs or 1) [1/s]
    decay: Floats  # (modes, runs or 1) [1]
    held: Floats  # (modes, runs or 1) [s]
    rising: Floats  # (modes, runs or 1) [s]
    shapes: Floats  # (bodies, modes) or (bodies, modes, runs) [K]
    of_mould: Floats  # the rows of the mould [K]
    of_heaters: Floats  # the rows of the heaters, turned [K]
    back: Floats  # from temperatures to modes [1/K]

    @classmethod
    def of(cls, network: HeatNetwork, seconds: float) -> "ModalHeat":
        """Of a network or of many, for steps of one length. [s]"""
        modes = heat_modes(network)
        shapes = np.ascontiguousarray(np.moveaxis(modes.shapes, 0, -1)) if modes.shapes.ndim > 2 else modes.shapes
        rates = runs_last(modes.rates)
        held, rising = step_weights(rates * seconds)
        return cls(
            seconds=seconds,
            rates=rates,
            decay=np.exp(-rates * seconds),
            held=seconds * held,
            rising=seconds * rising,
            shapes=shapes,
            of_mould=np.ascontiguousarray(shapes[MOULD]),
            of_heaters=np.ascontiguousarray(np.swapaxes(shapes[HEATERS], 0, 1)),
            back=_turned(modes.shapes * network.capacity[..., None]),
        )

    @property
    def own_response(self) -> Floats:
        """What a watt from its heater over one step does to each mould zone. (zones, runs or 1) [K/W]"""
        seen, driven = self.of_mould, np.swapaxes(self.of_heaters, 0, 1)
        held = self.held if seen.ndim > 2 else self.held[:, 0]
        response: Floats = (seen * driven * held).sum(axis=1)
        return response if response.ndim > 1 else response[:, None]

    def states(self, above: Floats) -> Floats:
        """Modes of temperatures above the room [K], runs last."""
        runs = max(above.shape[-1], self.back.shape[-1] if self.back.ndim > 2 else 1)
        return _through(self.back, np.broadcast_to(above, (above.shape[0], runs)))

    def everywhere(self, states: Floats) -> Floats:
        """Temperatures of all bodies. [K]"""
        return _through(self.shapes, states)

    def mould(self, states: Floats) -> Floats:
        """Temperatures of the mould. [K]"""
        return _through(self.of_mould, states)

    def from_heaters(self, power: Floats) -> Floats:
        """What heaters' power [W] drives in each mode. [K/s]"""
        return _through(self.of_heaters, power)


def runs_last(values: float | Floats) -> Floats:
    """Zones of one oven or of each run's with the runs last; what is one for all stays as it is.

    Parameters
    ----------
    values : float, (zones,) or (runs, zones) array
        [any]

    Returns
    -------
    array
        () or (zones, runs or 1). [any]

    Notes
    -----
    Source: definition; no source needed.
    """
    each = np.asarray(values, dtype=float)
    return each if each.ndim == 0 else np.ascontiguousarray(np.atleast_2d(each).T)


def _turned(matrix: Floats) -> Floats:
    """Rows and columns changed over, runs last."""
    turned = np.swapaxes(matrix, -1, -2)
    return np.ascontiguousarray(np.moveaxis(turned, 0, -1) if turned.ndim > 2 else turned)


def _through(matrix: Floats, vectors: Floats) -> Floats:
    """One matrix for all runs, or one for each."""
    found: Floats = matrix @ vectors if matrix.ndim == 2 else np.einsum("ijr,jr->ir", matrix, vectors)
    return found
