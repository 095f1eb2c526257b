"""Rate of cure: a sum of activated terms, as many branches as the published form has, and diffusion at the end."""

from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from bladewright.engine.arrays import Floats
from bladewright.engine.cure.kelvin import GAS_CONSTANT
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class Term:
    """One activated rate times a power of the degree of cure: ``A exp(-E/RT) a**m``."""

    prefactor: float  # A, negative in some published forms [1/s]
    energy: float  # E [J/mol]
    power: float = 0.0  # m; zero for n-th order, more where what has cured speeds the cure [1]

    def constant(self, temperature: Floats) -> Floats:
        """``A exp(-E/RT)``. [1/s]"""
        value: Floats = self.prefactor * np.exp(-self.energy / (GAS_CONSTANT * temperature))
        return value


@dataclass(frozen=True, slots=True)
class Branch:
    """The form that holds up to a degree of cure: ``(sum of terms) (1 - a)**n (B - a)**p``."""

    terms: tuple[Term, ...]
    order: float  # n [1]
    upto: float = 1.0  # degree of cure where the next branch takes over [1]
    ceiling: float = 1.0  # B, above ``upto``, or the branch would never hand over [1]
    ceiling_order: float = 0.0  # p; zero where the form has no such factor [1]


@dataclass(frozen=True, slots=True)
class Diffusion:
    """Slowing by diffusion: the rate is divided by ``1 + exp(C (a - (a_0 + a_T T)))``."""

    steepness: float  # C [1]
    at_zero: float  # a_0 [1]
    per_kelvin: float  # a_T [1/K]


@dataclass(frozen=True, slots=True)
class Kinetics:
    """Branches in order of degree of cure; the last holds to one."""

    branches: tuple[Branch, ...]
    diffusion: Diffusion | None = None

    def __post_init__(self) -> None:
        ends = [branch.upto for branch in self.branches]
        if not ends or ends[-1] != 1.0 or any(b <= a for a, b in pairwise([0.0, *ends])):
            raise BadInput("branches do not reach from 0 to 1", field="upto", allowed="increasing, the last one 1")
        for number, branch in enumerate(self.branches, start=1):
            if not branch.terms:
                raise BadInput("has no term", field="terms", row=number, allowed="at least one")
            if any(term.power < 0.0 for term in branch.terms):
                raise BadInput("is negative", field="power", row=number, allowed="at least 0")
            stops = branch.ceiling_order > 0.0 and branch.ceiling <= branch.upto < 1.0
            if branch.order < 0.0 or branch.ceiling_order < 0.0 or branch.ceiling < branch.upto or stops:
                raise BadInput(
                    "cannot be",
                    field="order, ceiling_order or ceiling",
                    row=number,
                    allowed="orders not negative, ceiling above where the branch ends",
                )

    @property
    def joints(self) -> tuple[float, ...]:
        """Degrees of cure at which one branch hands over to the next."""
        return tuple(branch.upto for branch in self.branches[:-1])

    @property
    def least_power(self) -> float:
        """Of the terms of the first branch: above zero, nothing begins from nothing by itself."""
        return min((term.power for term in self.branches[0].terms if term.prefactor), default=0.0)


def cure_rate(kinetics: Kinetics, conversion: Floats, temperature: Floats, branch: int, less: float = 0.0) -> Floats:
    """Rate of the degree of cure on one branch, over a power of the degree of cure.

    Parameters
    ----------
    kinetics : Kinetics
        [-]
    conversion : (...) array
        Degree of cure, taken into 0 to 1. [1]
    temperature : (...) array
        [K]
    branch : int
        Which one, counted from zero; both sides of a joint can so be asked at the joint. [-]
    less : float
        ``da/dt / a**less``: with the least power of the first branch this does not vanish at zero. [1]

    Returns
    -------
    array
        [1/s]

    Notes
    -----
    Never below zero: some published forms would let a cold adhesive uncure.

    Source: n-th order, and M. R. Kamal, S. Sourour, Polym. Eng. Sci. 13, 1973 (from memory); two branches as in
    W. I. Lee, A. C. Loos, G. S. Springer, J. Composite Materials 16, 1982 (from memory); diffusion factor as in
    P. Hubert, A. Johnston, A. Poursartip, K. Nelson, SAMPE 2001 (from memory).
    """
    form = kinetics.branches[branch]
    cured = np.clip(conversion, 0.0, 1.0)
    total = np.zeros(np.broadcast_shapes(cured.shape, np.shape(temperature)))
    for term in form.terms:
        power = term.power - less
        total = total + term.constant(temperature) * (cured**power if power else 1.0)
    total = total * (1.0 - cured) ** form.order
    if form.ceiling_order:
        total = total * np.maximum(form.ceiling - cured, 0.0) ** form.ceiling_order
    if kinetics.diffusion is not None:
        slow = kinetics.diffusion
        total = total / (1.0 + np.exp(slow.steepness * (cured - slow.at_zero - slow.per_kelvin * temperature)))
    return np.maximum(total, 0.0)
