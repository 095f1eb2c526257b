"""When a cure passes a degree of cure, and at which one a network first reaches through the whole film."""

import math

import numpy as np

from bladewright.engine.arrays import Floats, require_increasing
from bladewright.errors import BadInput


def gel_conversion(functions: float, partner_functions: float, balance: float = 1.0) -> float:
    """Degree of cure of the scarcer groups at gel, of two partners joining in steps.

    ``a = 1 / sqrt(r (f - 1)(g - 1))``.

    Parameters
    ----------
    functions, partner_functions : float
        Groups on a molecule of each partner, weighted by groups: like 4 and 2. [1]
    balance : float
        Scarcer over more plentiful groups. [1]

    Returns
    -------
    float
        [1]

    Raises
    ------
    BadInput
        If such partners never gel.

    Notes
    -----
    Equal reactivity, no rings. An estimate where no gel point is entered; a filled film gels elsewhere.

    Source: C. W. Macosko, D. R. Miller, Macromolecules 9, 1976; W. H. Stockmayer, 1952 (both from memory).
    """
    joined = balance * (functions - 1.0) * (partner_functions - 1.0)
    if not (0.0 < balance <= 1.0 and joined > 1.0):
        raise BadInput(
            "such partners never gel",
            field="functions",
            value=functions,
            allowed="balance above 0, at most 1; balance (f - 1)(g - 1) above 1",
        )
    return 1.0 / math.sqrt(joined)


def time_reached(seconds: Floats, conversion: Floats, level: float) -> Floats:
    """When each history first reaches a degree of cure, straight between samples.

    Parameters
    ----------
    seconds : (t,) array
        Times of the samples, increasing. [s]
    conversion : (..., t) array
        Degree of cure at the samples, never falling. [1]
    level : float
        Like the gel point. [1]

    Returns
    -------
    array
        Not a number where it is never reached. [s]

    Raises
    ------
    StationOrder
        If the times do not increase.

    Notes
    -----
    Good to a small part of the time between samples.

    Source: elementary.
    """
    require_increasing(seconds, "seconds")
    reached = conversion >= level
    after = np.argmax(reached, axis=-1)
    before = np.maximum(after - 1, 0)
    low, high = (np.take_along_axis(conversion, at[..., None], axis=-1)[..., 0] for at in (before, after))
    rise = np.where(high > low, high - low, 1.0)
    share = np.where(after > 0, (level - low) / rise, 0.0)
    when: Floats = seconds[before] + share * (seconds[after] - seconds[before])
    return np.where(reached.any(axis=-1), when, np.nan)
