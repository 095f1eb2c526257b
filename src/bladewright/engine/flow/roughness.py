"""What paint, wear and steps do to a layer: more friction on a rough wall, and transition at a step."""

from dataclasses import dataclass
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.flow.closure import smooth_friction

KARMAN = 0.41  # von Karman's constant; common practice
PASSES = 8
GREATEST_GRAIN = 1.0  # momentum thicknesses, about an eighth of the layer: the law of the wall goes no further
LEAST_FRICTION = 1e-5  # of cf/2: below it the wall counts as left by the flow
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


def rough_friction(smooth: Floats, shape: Floats, re_theta: Floats, mach_squared: Floats, grain: Floats) -> Floats:
    """Half the friction coefficient over a wall of equivalent sand roughness.

    ``1/sqrt(f_r) = 1/sqrt(f_s) - ln(1 + 0.3 k+)/0.41`` with ``k+ = (k/theta) Re_theta sqrt(f_r)``: the law of the wall
    shifted by Colebrook's function. f_s is that of the smooth layer with the same defect profile, whose shape follows
    from ``(H_s - 1)/(H_s sqrt(f_s)) = (H - 1)/(H sqrt(f_r))``. Found by repeating; a wall without attached flow is left
    as it is.

    Parameters
    ----------
    smooth : (...) array
        cf/2 of the smooth wall at the same shape. [1]
    shape : (...) array
        Kinematic shape factor. [1]
    re_theta : (...) array
        Momentum-thickness Reynolds number. [1]
    mach_squared : (...) array
        Of the edge Mach number. [1]
    grain : (...) array
        Equivalent sand grain over momentum thickness. [1]

    Returns
    -------
    (...) array
        [1]

    Notes
    -----
    Valid while the grain is small beside the layer: a grain thicker than the momentum thickness counts as that.

    Source: F. R. Hama, Trans. SNAME 62, 1954, and C. F. Colebrook, J. Inst. Civil Eng. 11, 1939, for the shift;
    F. H. Clauser, Adv. Appl. Mech. 4, 1956, for the defect profile that roughness leaves alone (all from memory).
    """
    if not np.any(grain):
        return smooth
    attached = smooth > LEAST_FRICTION
    grain = np.minimum(grain, GREATEST_GRAIN)
    rough = like = np.where(attached, smooth, LEAST_FRICTION)
    defect = (shape - 1.0) / shape
    for _ in range(PASSES):
        shift = np.log1p(SAND * grain * re_theta * np.sqrt(rough)) / KARMAN
        rough = 1.0 / np.maximum(1.0 / np.sqrt(like) - shift, 5.0) ** 2
        same = np.minimum(defect * np.sqrt(like / rough), 0.6)
        like = np.maximum(smooth_friction(1.0 / (1.0 - same), re_theta, mach_squared)[0], LEAST_FRICTION)
    result: Floats = np.where(attached, rough, smooth)
    return result
