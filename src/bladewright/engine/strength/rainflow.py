"""Cycles in a run of loads, counted so that each is a closed loop of stress and strain."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class Counted:
    """Cycles in the order they close, halves last."""

    amplitude: Floats  # half the range [unit of the loads]
    mean: Floats  # [unit of the loads]
    count: Floats  # 1 or 0.5 [1]


def turning_points(loads: Floats) -> Floats:
    """The first load, every peak and valley, and the last.

    Parameters
    ----------
    loads : (n,) array
        In order of time, any unit. [unit of the loads]

    Returns
    -------
    (k,) array
        [unit of the loads]

    Raises
    ------
    BadInput
        If a load is not finite.

    Notes
    -----
    Source: definition.
    """
    require_finite(loads, "loads")
    if loads.size == 0:
        return loads
    moved = np.concatenate(([True], np.diff(loads) != 0.0))
    steps = loads[moved]
    if steps.size < 3:
        return steps
    rise = np.diff(steps)
    return np.asarray(steps[np.concatenate(([True], rise[1:] * rise[:-1] < 0.0, [True]))], dtype=np.float64)


def rainflow(loads: Floats) -> Counted:
    """Full and half cycles of a run of loads.

    With X the range of the last two turning points and Y the range before: while ``X >= Y``, Y is a full cycle and its
    two points go, unless it holds the first point: then it is half a cycle and the first point goes. What is left at
    the end counts as halves.

    Parameters
    ----------
    loads : (n,) array
        In order of time, any unit. [unit of the loads]

    Returns
    -------
    Counted

    Raises
    ------
    BadInput
        If a load is not finite, or there are fewer than two different ones.

    Notes
    -----
    A run that is flown again and again should begin and end at its greatest load; then no half is left over.

    Source: ASTM E1049-85, Standard Practices for Cycle Counting in Fatigue Analysis, 5.4.4 (from memory).
    """
    points = turning_points(loads)
    if points.size < 2:
        raise BadInput("no cycle in it", field="loads", value=loads.size, allowed="two different loads or more")
    held: list[float] = []
    found: list[tuple[float, float, float]] = []
    for point in points.tolist():
        held.append(point)
        while len(held) >= 3 and abs(held[-1] - held[-2]) >= abs(held[-2] - held[-3]):
            first, second = held[-3], held[-2]
            if len(held) == 3:
                found.append((first, second, 0.5))
                del held[0]
            else:
                found.append((first, second, 1.0))
                del held[-3:-1]
    found += [(first, second, 0.5) for first, second in pairwise(held)]
    pairs = np.array(found)
    return Counted(
        amplitude=0.5 * np.abs(pairs[:, 1] - pairs[:, 0]), mean=0.5 * (pairs[:, 0] + pairs[:, 1]), count=pairs[:, 2]
    )
