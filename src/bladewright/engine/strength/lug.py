"""One bolt through a lug or plate: bearing, net section, shear-out, and the bolt's own shear."""

import math
from dataclasses import dataclass

from bladewright.engine.strength.refusals import require_positive
from bladewright.errors import BadInput

SHEAR_OUT_ANGLE = math.radians(40.0)  # E. F. Bruhn, chapter D1 (from memory)


@dataclass(frozen=True, slots=True)
class Lug:
    """A hole of a bolt near the end of a plate."""

    diameter: float  # of the hole, filled by the bolt [m]
    thickness: float  # [m]
    width: float  # across the load, or the pitch of holes side by side [m]
    edge_distance: float  # from the hole's centre to the edge the load pulls toward [m]

    def __post_init__(self) -> None:
        require_positive({name: getattr(self, name) for name in self.__slots__})
        for field, least, what in (
            ("width", self.diameter, "the hole is as wide as the plate"),
            ("edge_distance", 0.5 * self.diameter, "the hole breaks out of the edge"),
        ):
            if not getattr(self, field) > least:
                raise BadInput(
                    what, field=field, value=getattr(self, field), allowed=f"more than {least:.6g} m",
                    fix="move the bolt inward or take a smaller one",
                )  # fmt: skip

    @property
    def edge_ratio(self) -> float:
        """Edge distance over diameter; shops ask for 2 (common practice, no source). [1]"""
        return self.edge_distance / self.diameter


@dataclass(frozen=True, slots=True)
class LugStress:
    """Stresses of one load on one lug."""

    bearing: float  # on the projected area [Pa]
    net_section: float  # mean beside the hole [Pa]
    shear_out: float  # on two planes as long as the edge distance [Pa]
    shear_out_angled: float  # planes that begin where the bolt presses at 40 degrees [Pa]
    open_hole_factor: float  # peak over net section, of a hole without a bolt in it [1]


def lug_stress(load: float, lug: Lug) -> LugStress:
    """Bearing, net section and both shear-outs.

    ``F / (D t)``, ``F / ((W - D) t)``, ``F / (2 e t)``, ``F / (2 (e - D/2 cos 40 deg) t)``; factor
    ``2 + (1 - D/W)**3``.

    Parameters
    ----------
    load : float
        Toward the edge. [N]
    lug : Lug
        [-]

    Returns
    -------
    LugStress

    Raises
    ------
    BadInput
        If the load is not positive.

    Notes
    -----
    The simple shear-out area is the kinder of the two, so take the other unless the rule at hand says else. A hole
    loaded by its bolt has a much higher stress factor than an open one; none is given here, enter a measured one.

    Source: E. F. Bruhn, Analysis and Design of Flight Vehicle Structures, 1973, ch. D1; R. B. Heywood's strip with a
    hole (from memory).
    """
    require_positive({"load": load})
    along = lug.edge_distance - 0.5 * lug.diameter * math.cos(SHEAR_OUT_ANGLE)
    return LugStress(
        bearing=load / (lug.diameter * lug.thickness),
        net_section=load / ((lug.width - lug.diameter) * lug.thickness),
        shear_out=load / (2.0 * lug.edge_distance * lug.thickness),
        shear_out_angled=load / (2.0 * along * lug.thickness),
        open_hole_factor=2.0 + (1.0 - lug.diameter / lug.width) ** 3,
    )


def bolt_shear(load: float, diameter: float, planes: int) -> float:
    """Mean shear of a bolt.

    ``F / (n pi d**2 / 4)``.

    Parameters
    ----------
    load : float
        Of this bolt. [N]
    diameter : float
        Of the shank in the shear plane. [m]
    planes : int
        n, 1 in single and 2 in double shear. [1]

    Returns
    -------
    float
        [Pa]

    Raises
    ------
    BadInput
        If load or diameter is not positive, or there is no plane.

    Notes
    -----
    Bending of the bolt is left out: close-fitting and without gaps between the plates.

    Source: definition.
    """
    require_positive({"load": load, "diameter": diameter})
    if planes < 1:
        raise BadInput("a bolt is sheared in one plane or more", field="planes", value=planes, allowed="1 or more")
    return 4.0 * load / (planes * math.pi * diameter**2)
