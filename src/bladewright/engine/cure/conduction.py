"""Heat into a slab: the series, and how far a bondline stays behind its tool on a steady ramp."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput

TERMS = 60  # of the series; enough for any time a thermocouple can tell from the start
HALVINGS = 60  # of a bracket narrower than pi: to the last digit
LEAST_TIME = 1e-3  # [1] Fourier number below which sixty terms are not enough


def slab_roots(biot: float, count: int = TERMS) -> Floats:
    """The first roots of ``z tan(z) = Bi``, one between each ``k pi`` and ``(k + 1/2) pi``.

    Parameters
    ----------
    biot : float
        ``h L / k`` with L half the thickness; infinity for faces held at the surroundings' temperature. [1]
    count : int
        [-]

    Returns
    -------
    array
        [1]

    Raises
    ------
    BadInput
        If the Biot number is not above zero.

    Notes
    -----
    Source: H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, 3.11 (from memory).
    """
    if not biot > 0.0:
        raise BadInput("is no Biot number", field="biot", value=biot, allowed="above 0")
    low: Floats = np.pi * np.arange(count, dtype=np.float64)
    high: Floats = low + 0.5 * np.pi
    if np.isinf(biot):
        return high
    floor = low
    for _ in range(HALVINGS):
        middle = 0.5 * (low + high)
        # sine and cosine instead of the tangent, which has no value at the upper end
        short = (middle * np.sin(middle - floor)) < biot * np.cos(middle - floor)
        low, high = np.where(short, middle, low), np.where(short, high, middle)
    return 0.5 * (low + high)


def slab_temperature(biot: float, fourier: Floats, place: Floats, terms: int = TERMS) -> Floats:
    """What is left of the first difference to the surroundings: ``(T - T_inf)/(T_i - T_inf)``.

    Parameters
    ----------
    biot : float
        ``h L / k`` with L half the thickness, both faces alike. [1]
    fourier : (...) array
        ``a t / L**2``, at least 0.001. [1]
    place : (...) array
        From the middle, 0, to a face, 1. [1]
    terms : int
        Of the series. One alone is 8 % off at a Fourier number of 0.05, and good above 0.2. [-]

    Returns
    -------
    array
        [1]

    Raises
    ------
    BadInput
        If the Biot number is not above zero, or a Fourier number is too small for the series.

    Notes
    -----
    Source: H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, 3.11 (from memory).
    """
    if not (np.asarray(fourier) >= LEAST_TIME).all():
        raise BadInput("is too early", field="fourier", value=float(np.min(fourier)), allowed=f"at least {LEAST_TIME}")
    roots = slab_roots(biot, terms)
    signs = np.where(np.arange(terms) % 2 == 0, 1.0, -1.0)
    # with faces held still the general weight becomes 2 / z, alternately up and down
    weights = 2.0 * signs / roots if np.isinf(biot) else 4.0 * np.sin(roots) / (2.0 * roots + np.sin(2.0 * roots))
    time, where = np.asarray(fourier)[..., None], np.asarray(place)[..., None]
    left: Floats = np.sum(weights * np.exp(-(roots**2) * time) * np.cos(roots * where), axis=-1)
    return left


@dataclass(frozen=True, slots=True)
class Sheet:
    """One layer of what lies on the tool, counted from it."""

    thickness: float  # [m]
    conductivity: float  # [W/(m K)]
    heat_capacity: float  # per volume: density times specific heat [J/(m^3 K)]
    contact: float = 0.0  # resistance of the gap on the tool's side of it [m^2 K/W]


def ramp_lag(sheets: tuple[Sheet, ...], rate: float, beyond: float = 0.0) -> Floats:
    """How far the far side of each layer stays behind the tool once a steady ramp has settled.

    All that a layer and those beyond it take up goes through it:
    ``lag_i = lag_(i-1) + r (R_i (C_i + ... + C_n) + d_i/k_i (C_i/2 + C_(i+1) + ... + C_n))``, ``C = rho c d``.

    Parameters
    ----------
    sheets : tuple of Sheet
        From the tool to the middle of the blade, or to the side nothing flows through. [-]
    rate : float
        Of the ramp. [K/s]
    beyond : float
        Heat taken up per area behind the last layer, by a spar say. [J/(m^2 K)]

    Returns
    -------
    array
        One of each layer's far side. [K]

    Raises
    ------
    BadInput
        If a layer has no thickness, conductivity or heat capacity.

    Notes
    -----
    Holds after some ``d**2 rho c/k`` and contact times capacity have gone by; along the layers nothing flows.

    Source: H. S. Carslaw, J. C. Jaeger, Conduction of Heat in Solids, 2nd ed., 1959, 3.4 (from memory) for one
    layer; several by the same balance.
    """
    for number, sheet in enumerate(sheets, start=1):
        if not (sheet.thickness > 0.0 and sheet.conductivity > 0.0 and sheet.heat_capacity > 0.0):
            raise BadInput("is no layer", field="sheets", row=number, allowed="thickness and constants above 0")
    capacity = np.array([sheet.heat_capacity * sheet.thickness for sheet in sheets])
    behind = np.cumsum(capacity[::-1])[::-1] + beyond
    through = np.array([sheet.thickness / sheet.conductivity for sheet in sheets])
    contact = np.array([sheet.contact for sheet in sheets])
    lag: Floats = rate * np.cumsum(contact * behind + through * (behind - 0.5 * capacity))
    return lag
