"""Glass transition of a partly cured adhesive, and the degree of cure a measured one speaks for."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class GlassTransition:
    """Ends and bend of the curve, as entered for one adhesive."""

    uncured: float  # [K]
    cured: float  # [K]
    ratio: float  # lambda, between 0 and 1 [1]

    def __post_init__(self) -> None:
        if not (0.0 < self.uncured < self.cured):
            raise BadInput("ends are not in order", field="cured", value=self.cured, allowed="above that of uncured")
        if not 0.0 < self.ratio <= 1.0:
            raise BadInput("is no such ratio", field="ratio", value=self.ratio, allowed="above 0, at most 1")


def glass_transition(curve: GlassTransition, conversion: Floats) -> Floats:
    """Glass transition at a degree of cure: ``Tg0 + (Tg1 - Tg0) L a / (1 - (1 - L) a)``.

    Parameters
    ----------
    curve : GlassTransition
        [K]
    conversion : (...) array
        Degree of cure, 0 to 1. [1]

    Returns
    -------
    array
        [K]

    Notes
    -----
    Dry. Water taken up in service lowers it, by tens of kelvin in some films.

    Source: A. T. DiBenedetto, J. Polym. Sci. B 25, 1987 (formula from memory).
    """
    risen: Floats = curve.ratio * conversion / (1.0 - (1.0 - curve.ratio) * conversion)
    return curve.uncured + (curve.cured - curve.uncured) * risen


def conversion_from_transition(curve: GlassTransition, temperature: Floats) -> Floats:
    """Degree of cure whose glass transition was measured: the inverse of ``glass_transition``.

    Parameters
    ----------
    curve : GlassTransition
        [K]
    temperature : (...) array
        Measured glass transition, dry. [K]

    Returns
    -------
    array
        Not a number where the measured one is outside the curve's ends. [1]

    Notes
    -----
    Source: A. T. DiBenedetto, J. Polym. Sci. B 25, 1987 (formula from memory), solved for the degree of cure.
    """
    risen = (temperature - curve.uncured) / (curve.cured - curve.uncured)
    found: Floats = risen / (curve.ratio + (1.0 - curve.ratio) * risen)
    return np.where((risen >= 0.0) & (risen <= 1.0), found, np.nan)
