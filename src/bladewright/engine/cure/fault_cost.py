"""What a fault in the oven took from the cure, place by place, with bounds.

Only of heat. Pressure that came late or went before gel is a wetting fault: no degree of cure speaks for it, and no
second dwell mends it.
"""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.conversion import conversion
from bladewright.engine.cure.kinetics import Kinetics
from bladewright.engine.statistics.order import lower_by_order
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class FaultCost:
    """Degrees of cure at the end, place by place. Bounds hold for 95 % of what is possible, 19 times in 20."""

    lowest: Floats  # (places,) credible, with the fault [1]
    middle: Floats  # (places,) median with the fault [1]
    highest: Floats  # (places,) credible, with the fault [1]
    lowest_without: Floats  # (places,) credible, had there been no fault [1]
    lost: Floats  # (places,) greatest credible loss, the same oven and film with and without [1]


def fault_cost(
    kinetics: Kinetics,
    seconds: Floats,
    faulted: Floats,
    sound: Floats,
    start: float | Floats,
    pace: float | Floats = 1.0,
) -> FaultCost:
    """Degree of cure of the bondline over drawn runs with a fault, beside the same runs without it.

    Parameters
    ----------
    kinetics : Kinetics
        Entered for this film. [-]
    seconds : (t,) array
        [s]
    faulted : (runs, places, t) array
        Film temperatures of drawn ovens with the fault, 59 runs or more: of both halves (``film_temperature``). [K]
    sound : (runs, places, t) array
        The same draws without it. [K]
    start : float or (runs, 1) array
        Degree of cure when heat began: that of the worst storage the record allows. [1]
    pace : float or (runs, 1) array
        Factor on the rate, drawn for the lot's scatter. [1]

    Returns
    -------
    FaultCost

    Raises
    ------
    MissingInput
        With fewer than 59 runs.
    BadInput
        If the two sets of runs differ in shape.

    Notes
    -----
    No better than the entered kinetics, and no measure of strength: it says whether the film can have cured, never
    that the bond is good.

    Source: own method; bounds by order, S. S. Wilks, Ann. Math. Stat. 12, 1941 (from memory).
    """
    if faulted.shape != sound.shape:
        raise BadInput("runs with and without the fault differ", field="sound", allowed=f"shape {faulted.shape}")
    ends = [conversion(kinetics, seconds, runs, start, pace)[..., -1] for runs in (faulted, sound)]
    bad, good = ends
    return FaultCost(
        lowest=lower_by_order(bad),
        middle=np.median(bad, axis=0),
        highest=-lower_by_order(-bad),
        lowest_without=lower_by_order(good),
        lost=-lower_by_order(bad - good),
    )
