"""Peel at the edge of a bonded sheet: off its film by the film's own shear, or by what pulls and bends it."""

import math
from dataclasses import dataclass

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.refusals import require_not_negative
from bladewright.errors import BadInput


def end_peel(shear: float, decay: float, sheet: Sheet, film: Film) -> float:
    """Peel at the end of a sheet whose film shears it off its middle.

    ``D w'''' + (E_a/t_a) w = m'`` with ``m = (t/2) tau exp(-lambda x)``, no moment and no cross force at the end. With
    a shear that does not die away (lambda = 0) it is ``tau (3 E_a (1 - nu**2) t / (E t_a))**(1/4)``.

    Parameters
    ----------
    shear : float
        tau at the end. [Pa]
    decay : float
        lambda, how fast it dies away. [1/m]
    sheet : Sheet
        That ends. [-]
    film : Film
        [-]

    Returns
    -------
    float
        Greatest at the end; pulling the sheet off. [Pa]

    Raises
    ------
    BadInput
        If shear or decay is negative or not finite.

    Notes
    -----
    Elastic; what lies under the film stays straight; longer than a few times ``1/beta``. ``lambda = 0`` is also the
    peel of a film that yields in shear over a length greater than ``1/beta``, with its yield stress as ``tau``.

    Source: L. J. Hart-Smith, NASA CR-112235, 1973, peel of double laps, for lambda = 0 (from memory); re-derived in
    docs/theory/joints.
    """
    require_not_negative({"shear": shear, "decay": decay})
    moment = 0.5 * sheet.thickness * shear
    beta = film.peel_decay(sheet.bending)
    foundation = film.modulus / film.thickness
    driven = -decay * moment / (sheet.bending * decay**4 + foundation)
    ratio = decay / beta
    risen = moment / (2.0 * beta**3 * sheet.bending) + driven * (1.0 + 0.5 * ratio**3 - 0.5 * ratio**2)
    return foundation * risen


@dataclass(frozen=True, slots=True)
class EdgeLoad:
    """What pulls at the edge of a bonded sheet, per length of edge."""

    force: float  # square to the bond, pulling off [N/m]
    moment: float  # opening the edge [N]


def edge_peel(load: EdgeLoad, sheet: Sheet, film: Film) -> float:
    """Peel at the edge of a sheet that is pulled and bent off its film.

    ``sigma = 2 beta F + 2 beta**2 M`` with ``beta**4 = E_a / (4 D t_a)``.

    Parameters
    ----------
    load : EdgeLoad
        [-]
    sheet : Sheet
        That is pulled off. [-]
    film : Film
        [-]

    Returns
    -------
    float
        Greatest at the edge. [Pa]

    Raises
    ------
    BadInput
        If force or moment is not finite.

    Notes
    -----
    Elastic; what lies under the film stays straight; bonded over more than a few times ``1/beta``.

    Source: M. Hetenyi, Beams on Elastic Foundation, 1946 (from memory).
    """
    if not (math.isfinite(load.force) and math.isfinite(load.moment)):
        raise BadInput("not a number", field="load", value=load.force, allowed="finite force and moment")
    beta = film.peel_decay(sheet.bending)
    return 2.0 * beta * load.force + 2.0 * beta**2 * load.moment
