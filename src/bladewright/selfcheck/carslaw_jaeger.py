"""Heat into a slab from both faces, against the series in figures."""

import math
from functools import partial

import numpy as np

from bladewright.engine.cure.conduction import slab_roots, slab_temperature
from bladewright.selfcheck.case import Case

SOURCE = "H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, 3.11 (from memory), recomputed"
ROOTS = {
    0.1: (0.311053, 3.173097, 6.299059),
    0.5: (0.653271, 3.292310, 6.361620),
    1.0: (0.860334, 3.425618, 6.437298),
    10.0: (1.428870, 4.305801, 7.228110),
}
#: Fourier number: middle, face, middle by one term, all with a Biot number of one; middle with faces held
TABLE = {
    0.05: (0.999751, 0.790377, 1.078471, 0.996869),
    0.1: (0.993108, 0.723577, 1.039288, 0.949305),
    0.2: (0.950642, 0.643391, 0.965141, 0.772312),
    0.5: (0.772526, 0.504522, 0.772956, 0.370777),
    1.0: (0.533859, 0.348177, 0.533861, 0.107977),
}
WAYS = (
    ("middle", 1.0, 0.0, 60),
    ("face", 1.0, 1.0, 60),
    ("middle, one term alone", 1.0, 0.0, 1),
    ("middle, faces held", math.inf, 0.0, 60),
)
PRINTED = "printed to six decimals"


def _root(biot: float, number: int) -> float:
    return float(slab_roots(biot, 3)[number])


def _left(biot: float, fourier: float, place: float, terms: int) -> float:
    return float(slab_temperature(biot, np.array(fourier), np.array(place), terms))


CASES: tuple[Case, ...] = (
    *(
        Case(SOURCE, f"Bi {biot:g}: root {number + 1} [1]", partial(_root, biot, number), root, 1e-6, PRINTED)
        for biot, row in ROOTS.items()
        for number, root in enumerate(row)
    ),
    *(
        Case(SOURCE, f"Fo {fourier:g}, {where} [1]", partial(_left, biot, fourier, place, terms), left, 1e-6, PRINTED)
        for fourier, row in TABLE.items()
        for (where, biot, place, terms), left in zip(WAYS, row, strict=True)
    ),
)
