"""A doubler bonded on a skin: how load goes into it from its end, step by step, and what its end does to the film."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.peel import end_peel
from bladewright.engine.strength.refusals import require_not_negative, require_positive
from bladewright.errors import MissingInput


@dataclass(frozen=True, slots=True)
class Step:
    """A length of the doubler over which its thickness stays the same."""

    length: float  # from its outer edge inward [m]
    sheet: Sheet

    def __post_init__(self) -> None:
        require_positive({"length": self.length})


@dataclass(frozen=True, slots=True)
class DoublerEnd:
    """What the film bears where the doubler, or a step of it, begins."""

    edges: Floats  # distance of each step's outer edge from the doubler's end [m]
    shear: Floats  # of the film there, toward the doubler's inside [Pa]
    load: Floats  # what the doubler carries there, per width [N/m]
    peel: float  # at the end, pulling the doubler off [Pa]
    inner_load: float  # what the doubler carries where it is held, per width [N/m]


def doubler_end(load: float, steps: Sequence[Step], skin: Sheet, film: Film) -> DoublerEnd:
    """Shear at the end and at each step of a doubler, and peel at its end.

    In each step ``N_d'' = lambda**2 (N_d - c p)`` with ``lambda**2 = (G/t_a)(1/E_d t_d + 1/E_s t_s)`` and
    ``c = E_d t_d / (E_d t_d + E_s t_s)``; ``N_d`` and ``tau = N_d'`` go on across a step; ``N_d = 0`` at the end and
    ``tau = 0`` where the doubler is held. One step: ``tau = c p lambda tanh(lambda L)``. Peel: the end of a plate on
    the film, bent by ``tau t_d / 2``.

    Parameters
    ----------
    load : float
        p, of skin and doubler together per width. [N/m]
    steps : sequence of Step
        From the free end inward, to where skin and doubler no longer slip: bolts, or the middle of a doubler that is
        free at both ends. [-]
    skin : Sheet
        [-]
    film : Film
        [-]

    Returns
    -------
    DoublerEnd

    Raises
    ------
    MissingInput
        If there is no step.
    BadInput
        If the load is negative.

    Notes
    -----
    Elastic. The skin stays straight, as one held by a spar does; the load's own offset is not in it. The peel is that
    of an end longer than a few times ``1/beta``, and of the shear that the first step would have alone. A tapered end
    is entered as many thin steps.

    Source: O. Volkersen, 1938; L. J. Hart-Smith, NASA CR-112235, 1973 (from memory); re-derived in docs/theory/joints.
    """
    require_not_negative({"load": load})
    if not steps:
        raise MissingInput("a doubler without a step", field="steps", allowed="at least one length with its thickness")
    decay = np.array([film.shear_decay(step.sheet.axial, skin.axial) for step in steps])
    long = np.array([step.sheet.axial / (step.sheet.axial + skin.axial) * load for step in steps])
    width = decay * np.array([step.length for step in steps])
    loads = _at_edges(decay, width, long)
    coth, cosech = 1.0 / np.tanh(width), _cosech(width)
    # slope of N_d at the outer edge of each step, from its two ends
    shear = decay * (cosech * (loads[1:] - long) - coth * (loads[:-1] - long))
    edges = np.concatenate(([0.0], np.cumsum([step.length for step in steps])[:-1]))
    peel = end_peel(float(shear[0]), float(decay[0]), steps[0].sheet, film)
    return DoublerEnd(edges=edges, shear=shear, load=loads[:-1], peel=peel, inner_load=float(loads[-1]))


def _cosech(width: Floats) -> Floats:
    return np.asarray(2.0 * np.exp(-width) / -np.expm1(-2.0 * width), dtype=np.float64)


def _at_edges(decay: Floats, width: Floats, long: Floats) -> Floats:
    """Load of the doubler at the edges of its steps, nought at the first, without slip at the last. (n + 1)"""
    count = decay.size
    near, far = decay / np.tanh(width), decay * _cosech(width)
    matrix, side = np.zeros((count + 1, count + 1)), np.zeros(count + 1)
    matrix[0, 0] = 1.0
    for edge in range(1, count + 1):
        before = edge - 1
        # slope at the inner edge of the step before ...
        matrix[edge, edge] += near[before]
        matrix[edge, before] -= far[before]
        side[edge] += (near[before] - far[before]) * long[before]
        if edge < count:  # ... is that at the outer edge of the next; at the last it is nought
            matrix[edge, edge] += near[edge]
            matrix[edge, edge + 1] -= far[edge]
            side[edge] += (near[edge] - far[edge]) * long[edge]
    return np.asarray(np.linalg.solve(matrix, side), dtype=np.float64)
