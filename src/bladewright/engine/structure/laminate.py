"""Layers bonded on each other, as one wall."""

from collections.abc import Sequence
from dataclasses import dataclass

from bladewright.engine.arrays import Floats


@dataclass(frozen=True, slots=True)
class Laminate:
    """A wall of several layers."""

    stiffness: Floats | float  # sum of modulus times thickness [N/m]
    middle: Floats | float  # from the first layer's free face to the middle, weighted by stiffness [m]
    twisting: Floats | float  # 4 times the integral of modulus times distance from the middle squared [N m]


def laminate(moduli: Sequence[Floats | float], thicknesses: Sequence[Floats | float]) -> Laminate:
    """Sum, middle and strip torsion of layers.

    ``4 integral of G n**2 dn`` about the middle; one layer gives ``G t**3 / 3``.

    Parameters
    ----------
    moduli : sequence of floats or (...) arrays
        Of the layers in order. [Pa]
    thicknesses : sequence of floats or (...) arrays
        The same number of them. [m]

    Returns
    -------
    Laminate

    Notes
    -----
    Source: L. Prandtl's stress function of a layered strip, ``(f' / G)' = -2``; closed form.
    """
    face: Floats | float = 0.0
    zeroth: Floats | float = 0.0
    first: Floats | float = 0.0
    second: Floats | float = 0.0
    for modulus, thickness in zip(moduli, thicknesses, strict=True):
        far = face + thickness
        zeroth = zeroth + modulus * (far - face)
        first = first + modulus * (far**2 - face**2) / 2.0
        second = second + modulus * (far**3 - face**3) / 3.0
        face = far
    middle = first / zeroth
    return Laminate(stiffness=zeroth, middle=middle, twisting=4.0 * (second - zeroth * middle**2))
