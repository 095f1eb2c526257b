"""Shear and peel in a bonded lap joint, elastic: sheets that only stretch (Volkersen), sheets that bend as well."""

import math
from dataclasses import dataclass
from typing import Literal

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.refusals import require_positive
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class LapShear:
    """Shear along the overlap of two sheets that stretch."""

    mean: float  # load over overlap [Pa]
    first_end: float  # where the first sheet comes in loaded [Pa]
    second_end: float  # where the second sheet comes in loaded [Pa]
    least: float  # somewhere between [Pa]
    length_ratio: float  # w, overlap over the length in which shear dies away by e [1]

    @property
    def peak(self) -> float:
        """The worse end. [Pa]"""
        return max(self.first_end, self.second_end)

    @property
    def peak_ratio(self) -> float:
        """Peak over mean. [1]"""
        return self.peak / self.mean


def lap_shear(load: float, overlap: float, first: Sheet, second: Sheet, film: Film) -> LapShear:
    """Shear where the load of one sheet goes over into another that carries it on.

    ``tau / mean = w ((1 - c) cosh(w - s) + c cosh s) / sinh w``, ``s`` running from the first sheet's loaded end,
    ``w = overlap sqrt((G/t_a)(1/E1t1 + 1/E2t2))`` and ``c = E1t1 / (E1t1 + E2t2)``. Where one sheet is softer, the
    shear is greatest at the end where that sheet comes in loaded.

    Parameters
    ----------
    load : float
        Per width. [N/m]
    overlap : float
        [m]
    first, second : Sheet
        [-]
    film : Film
        [-]

    Returns
    -------
    LapShear

    Raises
    ------
    BadInput
        If load or overlap is not positive.

    Notes
    -----
    Elastic film and sheets; no bending, so good for a joint that is held straight; peel is not in it. A ductile film
    yields at the peak and bears more than this says.

    Source: O. Volkersen, Luftfahrtforschung 15, 1938 (from memory); re-derived in docs/theory/joints.
    """
    return transfer(load, overlap, first.axial, second.axial, film)


def transfer(load: float, overlap: float, first: float, second: float, film: Film) -> LapShear:
    """``lap_shear`` of any two sheets by their stiffness in the load's direction.

    A pull across the edge of the overlap meets ``E t``; a shear flow along that edge meets ``G t`` by the same
    equations.

    Parameters
    ----------
    load : float
        Pull or shear flow, per width. [N/m]
    overlap : float
        [m]
    first, second : float
        Stiffness per width, modulus times thickness; infinite where one does not give. [N/m]
    film : Film
        [-]

    Returns
    -------
    LapShear

    Raises
    ------
    BadInput
        If load, overlap or a stiffness is not positive.

    Notes
    -----
    As ``lap_shear``.

    Source: O. Volkersen, 1938 (from memory); re-derived in docs/theory/joints, also for shear flow.
    """
    require_positive({"load": load, "overlap": overlap})
    _require_one_gives(first, second)
    ratio = film.shear_decay(first, second) * overlap
    share = 1.0 / (1.0 + second / first) if math.isfinite(first) else 1.0
    mean = load / overlap
    coth, cosech = 1.0 / math.tanh(ratio), _cosech(ratio)
    # sqrt(A**2 + B**2 + 2 A B cosh w) / sinh w, with the powers of e taken out so that a long overlap does not overflow
    decay = math.exp(-ratio)
    low = (share**2 + (1.0 - share) ** 2) * decay**2 + share * (1.0 - share) * decay * (1.0 + decay**2)
    return LapShear(
        mean=mean,
        first_end=mean * ratio * ((1.0 - share) * coth + share * cosech),
        second_end=mean * ratio * (share * coth + (1.0 - share) * cosech),
        least=mean * ratio * 2.0 * math.sqrt(low) / -math.expm1(-2.0 * ratio),
        length_ratio=ratio,
    )


def _require_one_gives(first: float, second: float) -> None:
    for field, stiffness in (("first", first), ("second", second)):
        if not stiffness > 0.0:
            raise BadInput("not a stiffness", field=field, value=stiffness, allowed="more than 0")
    if math.isinf(first) and math.isinf(second):
        raise BadInput("neither sheet gives", field="second", value=second, allowed="at least one finite stiffness")


def _cosech(value: float) -> float:
    return 2.0 * math.exp(-value) / -math.expm1(-2.0 * value)


Bending = Literal["goland-reissner", "hart-smith"]


@dataclass(frozen=True, slots=True)
class SingleLap:
    """A single lap of two like sheets, which the load bends because it does not come in straight."""

    moment_factor: float  # k: moment at the end of the overlap, over load times half a sheet [1]
    mean_shear: float  # [Pa]
    peak_shear: float  # at both ends [Pa]
    peak_peel: float  # at both ends, pulling apart [Pa]
    sheet_stress: float  # pull and bending together at the end of the overlap [Pa]
    inside_validity: bool  # whether the film is soft enough beside the sheets


def moment_factor(load: float, overlap: float, sheet: Sheet, bending: Bending) -> float:
    """How much of the moment of a load off its line is left at the end of a single lap.

    Goland and Reissner: ``k = 1 / (1 + 2 sqrt 2 tanh(u c))``, ``u c = sqrt(3 (1 - nu**2) / 2) (c / t) sqrt(p / E t)``.
    Hart-Smith: ``k = 1 / (1 + x + x**2 / 6)``, ``x**2 = 12 (1 - nu**2) p c**2 / (E t**3)``. Overlap 2 c.

    Parameters
    ----------
    load : float
        p, per width. [N/m]
    overlap : float
        2 c. [m]
    sheet : Sheet
        Both sheets. [-]
    bending : str
        Whose factor. [-]

    Returns
    -------
    float
        k, 1 for a load that bends nothing yet. [1]

    Raises
    ------
    BadInput
        If load or overlap is not positive.

    Notes
    -----
    Long sheets beside the joint; the overlap taken as one thick plate (Goland and Reissner) or with a film that gives
    (Hart-Smith, which is lower).

    Source: M. Goland, E. Reissner, J. Appl. Mech. 11, 1944; L. J. Hart-Smith, NASA CR-112236, 1973 (from memory).
    """
    require_positive({"load": load, "overlap": overlap})
    half = 0.5 * overlap
    stretch = load / sheet.axial
    plane = 1.0 - sheet.poisson**2
    if bending == "goland-reissner":
        return 1.0 / (1.0 + 2.0 * math.sqrt(2.0) * math.tanh(math.sqrt(1.5 * plane * stretch) * half / sheet.thickness))
    bent = math.sqrt(12.0 * plane * stretch) * half / sheet.thickness
    return 1.0 / (1.0 + bent + bent**2 / 6.0)


def single_lap(
    load: float, overlap: float, sheet: Sheet, film: Film, bending: Bending = "goland-reissner"
) -> SingleLap:
    """Shear and peel at the ends of a single lap of two like sheets.

    ``tau / mean = ((b c/t) (1 + 3 k) coth(b c/t) + 3 (1 - k)) / 4`` with ``b**2 = 8 G t / (E t_a)``. Peel is that of
    two sheets pulled apart at their ends by the moment ``M = k p t / 2`` and the cross force ``V = M sqrt(p / D)``; far
    from the other end it is ``B**2 M + B V`` with ``B**4 = E_a / (2 D t_a)``.

    Parameters
    ----------
    load : float
        p, per width. [N/m]
    overlap : float
        2 c. [m]
    sheet : Sheet
        Both sheets. [-]
    film : Film
        [-]
    bending : str
        Whose moment factor. [-]

    Returns
    -------
    SingleLap

    Raises
    ------
    BadInput
        If load or overlap is not positive.

    Notes
    -----
    Elastic; film much softer than the sheets: ``t G_a`` and ``t E_a`` at most a tenth of ``t_a G`` and ``t_a E``, their
    own limit. Beyond it the sheets give way too and the peaks are lower than said. ``1 - nu**2`` is kept in the peel,
    where the first paper leaves it out.

    Source: M. Goland, E. Reissner, J. Appl. Mech. 11, 1944 (from memory); peel re-derived in docs/theory/joints.
    """
    factor = moment_factor(load, overlap, sheet, bending)
    moment = 0.5 * factor * load * sheet.thickness
    mean = load / overlap
    along = 0.5 * overlap * math.sqrt(8.0 * film.shear_modulus / (sheet.axial * film.thickness))
    peel = _peel_of_two(moment, moment * math.sqrt(load / sheet.bending), overlap, sheet, film)
    return SingleLap(
        moment_factor=factor,
        mean_shear=mean,
        peak_shear=0.25 * mean * (along * (1.0 + 3.0 * factor) / math.tanh(along) + 3.0 * (1.0 - factor)),
        peak_peel=peel,
        sheet_stress=load / sheet.thickness * (1.0 + 3.0 * factor),
        inside_validity=film.is_soft_beside(sheet),
    )


def _peel_of_two(moment: float, cross_force: float, overlap: float, sheet: Sheet, film: Film) -> float:
    """Peel at the ends of two sheets that part in the same way at both ends, ``w = a cosh cos + b sinh sin``."""
    decay = math.sqrt(math.sqrt(2.0)) * film.peel_decay(sheet.bending)
    end = 0.5 * decay * overlap
    # all divided by exp(2 end), so that a long overlap does not overflow
    sine, cosine, fade = math.sin(2.0 * end), math.cos(2.0 * end), math.exp(-2.0 * end)
    sinh, cosh = 0.5 * (1.0 - fade**2), 0.5 * (1.0 + fade**2)
    below = sinh + sine * fade
    return (decay**2 * moment * (sinh - sine * fade) + decay * cross_force * (cosh + cosine * fade)) / below
