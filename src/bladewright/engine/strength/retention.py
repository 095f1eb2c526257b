"""A tip weight held against centrifugal force: by its bond alone, and by its bolts alone. Each must do it."""

from dataclasses import dataclass

from bladewright.engine.strength.adherends import Film, Sheet
from bladewright.engine.strength.lap_joint import lap_shear
from bladewright.engine.strength.lug import Lug, LugStress, bolt_shear, lug_stress
from bladewright.engine.strength.refusals import require_positive
from bladewright.errors import MissingInput


def centrifugal_force(mass: float, radius: float, rotor_speed: float) -> float:
    """Pull of a mass that turns.

    ``m W**2 r``.

    Parameters
    ----------
    mass : float
        [kg]
    radius : float
        Of its centre. [m]
    rotor_speed : float
        [rad/s]

    Returns
    -------
    float
        [N]

    Raises
    ------
    BadInput
        If mass, radius or speed is not positive.

    Notes
    -----
    Source: definition.
    """
    require_positive({"mass": mass, "radius": radius, "rotor_speed": rotor_speed})
    return mass * rotor_speed**2 * radius


@dataclass(frozen=True, slots=True)
class BondAlone:
    """The bond holds all of it."""

    mean_shear: float  # [Pa]
    peak_shear: float  # at the worse end of the bond [Pa]


def by_bond_alone(
    force: float, length: float, width: float, unbonded: float, weight: Sheet, wall: Sheet, film: Film
) -> BondAlone:
    """Shear of the bond when every bolt is gone.

    Mean ``F / (b l (1 - v))``; the peak is that of a lap of the weight on the wall, with a mean so raised.

    Parameters
    ----------
    force : float
        [N]
    length : float
        l, along the blade. [m]
    width : float
        b, bonded, all faces together. [m]
    unbonded : float
        v, share of the area in voids and unfilled gaps. [1]
    weight : Sheet
        As thick as the weight is behind one bonded face. [-]
    wall : Sheet
        That it is bonded to. [-]
    film : Film
        [-]

    Returns
    -------
    BondAlone

    Raises
    ------
    BadInput
        If force, length or width is not positive.
    MissingInput
        If nothing is bonded.

    Notes
    -----
    Elastic, stretching only. The weight's own force is taken at its outer end, which is safe: it acts all along it.

    Source: O. Volkersen, 1938 (from memory).
    """
    require_positive({"force": force, "length": length, "width": width})
    if not 0.0 <= unbonded < 1.0:
        raise MissingInput(
            "nothing is bonded", field="unbonded", value=unbonded, allowed="0 up to 1",
            fix="the bond alone then holds nothing: its margin is -1",
        )  # fmt: skip
    shear = lap_shear(force / (width * (1.0 - unbonded)), length, weight, wall, film)
    return BondAlone(mean_shear=shear.mean, peak_shear=shear.peak)


@dataclass(frozen=True, slots=True)
class BoltsAlone:
    """The bolts hold all of it, sharing alike."""

    per_bolt: float  # [N]
    shear: float  # of each bolt [Pa]
    in_weight: LugStress
    in_wall: LugStress


def by_bolts_alone(force: float, count: int, planes: int, in_weight: Lug, in_wall: Lug) -> BoltsAlone:
    """Stresses of bolts and holes when the bond is gone.

    ``F / n`` each.

    Parameters
    ----------
    force : float
        [N]
    count : int
        n. [1]
    planes : int
        Shear planes of each bolt. [1]
    in_weight, in_wall : Lug
        The hole in the weight, with its distance to the weight's inner edge; in the spar wall, to its outer edge. [-]

    Returns
    -------
    BoltsAlone

    Raises
    ------
    BadInput
        If the force is not positive or there is no shear plane.
    MissingInput
        If there is no bolt.

    Notes
    -----
    Bolts in line share worse than alike: see ``row_shares``.

    Source: definitions; as ``lug_stress``.
    """
    if count < 1:
        raise MissingInput(
            "no bolt holds it", field="count", value=count, allowed="1 or more",
            fix="the bolts alone then hold nothing: their margin is -1",
        )  # fmt: skip
    require_positive({"force": force})
    each = force / count
    return BoltsAlone(
        per_bolt=each,
        shear=bolt_shear(each, in_weight.diameter, planes),
        in_weight=lug_stress(each, in_weight),
        in_wall=lug_stress(each, in_wall),
    )
