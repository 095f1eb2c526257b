"""What paint, wear and steps do to a layer: more friction on a rough wall, and transition at a step."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats

KARMAN = 0.41  # von Karman's constant; common practice
SAND = 0.3  # of Colebrook's interpolation between smooth and rough, per k+; Grigson's form (from memory)

#: Reynolds number of height and edge speed from which a step or a row of heads makes a laminar layer turn at once.
#: Steps: E. J. Nenni, G. L. Gluyas, Astronautics & Aeronautics 4, 1966 (from memory). Heads: A. L. Braslow, E. C. Knox,
#: NACA TN 4363, 1958, whose 600 is with the speed at the head's top; with the edge speed heads trip sooner.
CRITICAL_STEP = {"up": 1800.0, "down": 900.0, "heads": 600.0}


@dataclass(frozen=True, slots=True)
class Step:
    """A step across the flow: up as at a lap against the stream, down as behind a tape; or a row of heads."""

    side: Literal["top", "bottom"]
    place: float  # [chord fraction]
    height: float  # [chord fraction]
    kind: Literal["up", "down", "heads"]


def rough_friction(smooth: Floats, re_theta: Floats, grain: Floats) -> Floats:
    """Half the friction coefficient over a wall of equivalent sand roughness, from that over a smooth one.

    ``1/sqrt(f_r) = 1/sqrt(f) - ln(1 + 0.3 k+)/0.41`` with ``k+ = (k/theta) Re_theta sqrt(f_r)``: the law of the wall
    shifted by Colebrook's function. Two passes; a wall without attached flow is left as it is.

    Parameters
    ----------
    smooth : (...) array
        cf/2 of the smooth wall. [1]
    re_theta : (...) array
        Momentum-thickness Reynolds number. [1]
    grain : (...) array
        Equivalent sand grain over momentum thickness. [1]

    Returns
    -------
    (...) array
        [1]

    Notes
    -----
    Valid while the grain is small beside the layer: roughness below some tenth of its thickness.

    Source: F. R. Hama, Trans. SNAME 62, 1954, and C. F. Colebrook, J. Inst. Civil Eng. 11, 1939, for the shift (from
    memory).
    """
    if not np.any(grain):
        return smooth
    attached = smooth > 0.0
    base = np.where(attached, smooth, 1e-6)
    rough = base
    for _ in range(2):
        shift = np.log1p(SAND * grain * re_theta * np.sqrt(rough)) / KARMAN
        rough = 1.0 / np.maximum(1.0 / np.sqrt(base) - shift, 5.0) ** 2
    result: Floats = np.where(attached, rough, smooth)
    return result
