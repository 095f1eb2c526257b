"""One step of an explicit Runge-Kutta pair for many lanes at once, each with a step of its own."""

from collections.abc import Callable

import numpy as np

from bladewright.engine.arrays import Floats

#: nodes, stages, and the difference of the fifth from the fourth order result
_NODES = (0.0, 1 / 5, 3 / 10, 4 / 5, 8 / 9, 1.0, 1.0)
_STAGES = (
    (),
    (1 / 5,),
    (3 / 40, 9 / 40),
    (44 / 45, -56 / 15, 32 / 9),
    (19372 / 6561, -25360 / 2187, 64448 / 6561, -212 / 729),
    (9017 / 3168, -355 / 33, 46732 / 5247, 49 / 176, -5103 / 18656),
    (35 / 384, 0.0, 500 / 1113, 125 / 192, -2187 / 6784, 11 / 84),
)
_ERROR = (71 / 57600, 0.0, -71 / 16695, 71 / 1920, -17253 / 339200, 22 / 525, -1 / 40)
ORDER = 5


def pair_step(
    slope: Callable[[Floats, Floats], Floats], start: Floats, state: Floats, step: Floats
) -> tuple[Floats, Floats]:
    """State after a step by the fifth-order result, and how far the fourth-order one is from it.

    Parameters
    ----------
    slope : callable
        Of the place and the state, each an array of all lanes. [state unit per place unit]
    start : (lanes,) array
        Where each lane stands. [place unit]
    state : (lanes,) array
        [state unit]
    step : (lanes,) array
        [place unit]

    Returns
    -------
    tuple of arrays
        New state, and its error. [state unit]

    Notes
    -----
    Source: J. R. Dormand, P. J. Prince, J. Comput. Appl. Math. 6, 1980 (coefficients from memory, held to order by
    the tests).
    """
    slopes: list[Floats] = []
    reached = state
    for node, weights in zip(_NODES, _STAGES, strict=True):
        if weights:
            reached = state + step * sum(w * s for w, s in zip(weights, slopes, strict=True) if w)
        slopes.append(slope(start + node * step, reached))
    error = step * sum(w * s for w, s in zip(_ERROR, slopes, strict=True) if w)
    return reached, np.abs(error)
