"""Steps within which a heater is cut off or comes back: what its power still does there, exactly."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, Integers
from bladewright.engine.cure.modal_heat import ModalHeat
from bladewright.engine.cure.network import step_weights


@dataclass(frozen=True, slots=True)
class BrokenStep:
    """Heaters of one zone fed for a part of one step, each in its run."""

    zone: int  # counted from 0
    run: Integers
    held: Floats  # (modes, number) by power held at its start value [K/W]
    rising: Floats  # (modes, number) by how much power rises over the whole step [K/W]


def broken_steps(fed: Floats, heat: ModalHeat, runs: int) -> dict[int, tuple[BrokenStep, ...]]:
    """All broken steps by number.

    A heater fed up to the part f of a step leaves at its end
    ``exp(-x (1 - f)) b h (f p(x f) P_0 + f**2 q(x f) (P_1 - P_0))``; one fed from f on, the rest of a whole step. One
    that is off for a time within one step is taken as fed by its part throughout.

    Parameters
    ----------
    fed : (steps, zones, runs or 1) array
        Part of each step in which each heater is fed. [1]
    heat : ModalHeat
        Of all runs. [-]
    runs : int
        [-]

    Returns
    -------
    dict
        Only of steps that have any.

    Notes
    -----
    ``x`` rate times step, ``b`` the mode's share, ``p`` and ``q`` the weights of ``step_weights``.

    Source: elementary.
    """
    found: dict[int, tuple[BrokenStep, ...]] = {}
    partly = (fed > 0.0) & (fed < 1.0)
    for number in map(int, np.nonzero(partly.any(axis=(1, 2)))[0]):
        before, after = fed[max(number - 1, 0)], fed[min(number + 1, len(fed) - 1)]
        parts = []
        for zone in np.nonzero(partly[number].any(axis=1))[0]:
            here = np.broadcast_to(partly[number, zone], runs)
            (run,) = np.nonzero(here)
            part, was, will = (np.broadcast_to(values[zone], runs)[run] for values in (fed[number], before, after))
            held, rising = _weights(heat, int(zone), run, part, was, will)
            parts.append(BrokenStep(int(zone), run, held, rising))
        found[number] = tuple(parts)
    return found


def _weights(
    heat: ModalHeat, zone: int, run: Integers, part: Floats, was: Floats, will: Floats
) -> tuple[Floats, Floats]:
    """What a unit of power and of its rise leave in each mode."""
    rates, whole_held, whole_rising = (
        values[:, run] if values.shape[-1] > 1 else values for values in (heat.rates, heat.held, heat.rising)
    )
    share = heat.of_heaters[:, zone]
    share = share[:, run] if share.ndim == 2 else share[:, None]
    ending, beginning = will == 0.0, (was == 0.0) & (will > 0.0)
    until = np.where(beginning, 1.0 - part, part)
    held, rising = step_weights(rates * heat.seconds * until)
    left = np.exp(-rates * heat.seconds * (1.0 - until)) * heat.seconds * until
    early_held, early_rising = left * held, left * until * rising
    by_held = np.where(ending, early_held, np.where(beginning, whole_held - early_held, part * whole_held))
    by_rising = np.where(ending, early_rising, np.where(beginning, whole_rising - early_rising, part * whole_rising))
    return share * by_held, share * by_rising
