"""A place in a lap joint where nothing holds: what the film beside it bears instead."""

import math
from dataclasses import dataclass

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.lap_joint import transfer
from bladewright.engine.strength.refusals import require_not_negative, require_positive
from bladewright.errors import BadInput


@dataclass(frozen=True, slots=True)
class VoidShear:
    """Shear at the four edges of what is left of the overlap; nought where nothing is left."""

    first_end: float  # where the first sheet comes in loaded [Pa]
    before: float  # at the void's edge nearer that end [Pa]
    after: float  # at its other edge [Pa]
    second_end: float  # where the second sheet comes in loaded [Pa]
    sound_peak: float  # of the same joint without a void [Pa]

    @property
    def peak(self) -> float:
        """The worst of the four. [Pa]"""
        return max(self.first_end, self.before, self.after, self.second_end)

    @property
    def worse_by(self) -> float:
        """Peak over that of the sound joint. [1]"""
        return self.peak / self.sound_peak


def void_in_lap(
    load: float, overlap: float, void_start: float, void_length: float, first: Sheet, second: Sheet, film: Film
) -> VoidShear:
    """Shear beside a void that reaches right across the joint's width.

    As ``void_in_transfer``, with ``E t`` of the sheets.

    Parameters
    ----------
    load : float
        Per width. [N/m]
    overlap : float
        [m]
    void_start : float
        From the end where the first sheet comes in loaded. [m]
    void_length : float
        a, along the load. [m]
    first, second : Sheet
        [-]
    film : Film
        [-]

    Returns
    -------
    VoidShear

    Raises
    ------
    BadInput
        If the void does not lie in the overlap, or leaves nothing bonded.

    Notes
    -----
    Elastic, stretching only. A void narrower than the joint hands part of its load sideways, so this is the worse
    case. Whether the skin over it buckles is asked elsewhere.

    Source: O. Volkersen, 1938 (from memory); two overlaps joined, re-derived in docs/theory/joints.
    """
    return void_in_transfer(load, overlap, void_start, void_length, first.axial, second.axial, film)


def void_in_transfer(
    load: float, overlap: float, void_start: float, void_length: float, first: float, second: float, film: Film
) -> VoidShear:
    """``void_in_lap`` of any two sheets by their stiffness in the load's direction: ``G t`` for a shear flow.

    Both bonded lengths follow Volkersen; between them the sheets stretch alone. With ``n`` the first sheet's load
    less its share far from the ends, ``n_void (coth w1 + coth w2 + lambda a) = n_start / sinh w1 + n_end / sinh w2``.

    Parameters
    ----------
    load : float
        Pull or shear flow, per width. [N/m]
    overlap : float
        [m]
    void_start : float
        From the end where the first sheet comes in loaded. [m]
    void_length : float
        a, in the direction of the overlap. [m]
    first, second : float
        Stiffness per width, modulus times thickness; infinite where one does not give. [N/m]
    film : Film
        [-]

    Returns
    -------
    VoidShear

    Raises
    ------
    BadInput
        If the void does not lie in the overlap or leaves nothing bonded, or a stiffness is not positive.

    Notes
    -----
    As ``void_in_lap``.

    Source: O. Volkersen, 1938 (from memory); two overlaps joined, re-derived in docs/theory/joints.
    """
    require_positive({"load": load, "overlap": overlap})
    require_not_negative({"void_start": void_start, "void_length": void_length})
    before, after = void_start, overlap - void_start - void_length
    if after < -1e-12 * overlap or void_length >= overlap:
        raise BadInput(
            "the void is not in the overlap, or leaves nothing of it", field="void_length", value=void_length,
            allowed=f"up to {overlap - void_start:.6g} m, and less than the overlap",
            fix="where nothing is bonded, nothing is carried: enter the part as unbonded",
        )  # fmt: skip
    sound = transfer(load, overlap, first, second, film).peak
    tiny = 1e-9 * overlap  # a bonded strip thinner than this bears nothing and is no strip
    if before <= tiny or after <= tiny:
        left = transfer(load, overlap - void_length, first, second, film)
        return VoidShear(left.first_end, 0.0, 0.0, left.second_end, sound)
    decay = film.shear_decay(first, second)
    share = 1.0 / (1.0 + second / first) if math.isfinite(first) else 1.0
    start, end = load * (1.0 - share), -load * share
    w1, w2 = decay * before, decay * after
    middle = (start * _cosech(w1) + end * _cosech(w2)) / (_coth(w1) + _coth(w2) + decay * void_length)
    return VoidShear(
        first_end=decay * (start * _coth(w1) - middle * _cosech(w1)),
        before=decay * (start * _cosech(w1) - middle * _coth(w1)),
        after=decay * (middle * _coth(w2) - end * _cosech(w2)),
        second_end=decay * (middle * _cosech(w2) - end * _coth(w2)),
        sound_peak=sound,
    )


def _coth(value: float) -> float:
    return 1.0 / math.tanh(value)


def _cosech(value: float) -> float:
    return 2.0 * math.exp(-value) / -math.expm1(-2.0 * value)


def bonded_share(area: float, void_area: float) -> float:
    """What is left of a bond.

    ``1 - A_void / A``.

    Parameters
    ----------
    area : float
        Of the bond, voids included. [m^2]
    void_area : float
        Of all voids in it together. [m^2]

    Returns
    -------
    float
        0 to 1. [1]

    Raises
    ------
    BadInput
        If the bond has no area, or the voids are larger than it.

    Notes
    -----
    For a mean stress only; what a void does to the film at its edge is more.

    Source: definition.
    """
    require_positive({"area": area})
    require_not_negative({"void_area": void_area})
    if void_area > area:
        raise BadInput("larger than the bond", field="void_area", value=void_area, allowed=f"up to {area:.6g} m^2")
    return 1.0 - void_area / area
