"""Array types of the engine and the checks every function makes on them."""

import numpy as np
from numpy.typing import NDArray

from bladewright.errors import BadInput, StationOrder

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]
Complexes = NDArray[np.complex128]
Integers = NDArray[np.intp]


def require_increasing(values: Floats, field: str) -> None:
    """Raise ``StationOrder`` unless a one-dimensional array goes up at every step.

    Parameters
    ----------
    values : (n,) array
        Any quantity. [-]
    field : str
        What the array is called where it came from. [-]

    Raises
    ------
    StationOrder
        Naming the first place that does not go up.
    """
    steps = np.diff(values)
    if np.all(steps > 0.0):
        return
    at = int(np.argmin(steps > 0.0)) + 1
    raise StationOrder(
        f"stations do not go outward at number {at + 1}",
        field=field,
        row=at + 1,
        value=float(values[at]),
        allowed=f"more than {float(values[at - 1]):.6g}",
        fix="put the stations in order of radius, each one once",
    )


def require_finite(values: Floats, field: str) -> None:
    """Raise ``BadInput`` if any entry is not a finite number.

    Parameters
    ----------
    values : (...) array
        Any quantity. [-]
    field : str
        What the array is called where it came from. [-]

    Raises
    ------
    BadInput
        Naming the first bad entry.
    """
    bad = ~np.isfinite(values)
    if not bad.any():
        return
    at = int(np.argmax(bad.ravel()))
    raise BadInput("a value is missing or not finite", field=field, row=at + 1, allowed="finite numbers")
