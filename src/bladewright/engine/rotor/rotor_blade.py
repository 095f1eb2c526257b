"""One blade as the air meets it, cut into elements dense enough to integrate along."""

from dataclasses import dataclass

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing
from bladewright.engine.flow.polar import Polar, SectionForces, look_up
from bladewright.errors import BadInput

ELEMENTS = 40  # thrust with tip loss is then right to 1e-6; see tests/validation


@dataclass(frozen=True, slots=True)
class RotorBlade:
    """The lifting part of one blade; straight lines between the stations."""

    y: Floats  # (n,) radii, from where the section begins to the tip [m]
    chord: Floats  # (n,) [m]
    twist: Floats  # (n,) against the collective's section, nose-up positive [rad]
    aft: Floats  # (n,) quarter chord aft of the feathering axis [m]
    lift_added: Floats  # (n,) to the section's lift coefficient: a tab, or a departure of this serial [1]
    moment_added: Floats  # (n,) to the section's moment coefficient [1]
    sections: tuple[Polar, ...]  # each known to plus and minus 180 degrees
    section_y: Floats  # (k,) radii the sections belong to; between them forces are blended [m]

    def __post_init__(self) -> None:
        require_increasing(self.y, "y")
        require_increasing(self.section_y, "section_y")
        for name in ("y", "chord", "twist", "aft", "lift_added", "moment_added"):
            require_finite(getattr(self, name), name)
            if getattr(self, name).shape != self.y.shape:
                raise BadInput("one value for each station", field=name, allowed=f"{self.y.size} values")
        if not (self.chord > 0.0).all():
            raise BadInput("must be positive", field="chord", value=float(self.chord.min()), allowed="more than 0")
        if not self.y[0] >= 0.0:
            raise BadInput("begins beyond the axis", field="y", value=float(self.y[0]), allowed="0 or more")
        if len(self.sections) != self.section_y.size:
            raise BadInput("one radius for each section", field="section_y", allowed=f"{len(self.sections)} values")

    @property
    def radius(self) -> float:
        """Of the rotor. [m]"""
        return float(self.y[-1])


@dataclass(frozen=True, slots=True)
class Elements:
    """Places along one blade at which it is looked at, each standing for a length of it."""

    y: Floats  # (e,) [m]
    length: Floats  # (e,) weights of Gauss's rule [m]
    chord: Floats  # (e,) [m]
    twist: Floats  # (e,) [rad]
    aft: Floats  # (e,) [m]
    lift_added: Floats  # (e,) [1]
    moment_added: Floats  # (e,) [1]
    shares: Floats  # (k, e) of each section [1]
    sections: tuple[Polar, ...]
    radius: float  # of the rotor [m]


def plain_blade(y: Floats, chord: Floats, twist: Floats, polar: Polar) -> RotorBlade:
    """A blade of one section whose quarter chord is its feathering axis, with nothing added.

    Parameters
    ----------
    y : (n,) array
        Radii, from where the section begins to the tip. [m]
    chord : (n,) array
        [m]
    twist : (n,) array
        [rad]
    polar : Polar
        Of the section. [-]

    Returns
    -------
    RotorBlade

    Notes
    -----
    Source: definition; no source needed.
    """
    none = np.zeros_like(y)
    return RotorBlade(y, chord, twist, none, none, none, (polar,), y[-1:])


def elements(blade: RotorBlade, count: int = ELEMENTS) -> Elements:
    """Gauss's places between each two stations, closer together towards the tip.

    The last span uses ``y = R - (R - y_0)(1 - s)**2``: tip loss goes with the root of the distance to the tip.

    Parameters
    ----------
    blade : RotorBlade
        One blade. [-]
    count : int
        About how many for the whole blade; each span between stations gets four at least. [-]

    Returns
    -------
    Elements

    Notes
    -----
    Source: Gauss-Legendre quadrature; any text.
    """
    spans = np.diff(blade.y)
    shares = np.maximum(4, np.ceil(count * spans / spans.sum()).astype(int))
    places, lengths = [], []
    for start, span, number, last in zip(
        blade.y[:-1], spans, shares, np.arange(spans.size) == spans.size - 1, strict=True
    ):
        node, weight = np.polynomial.legendre.leggauss(int(number))
        s, weight = 0.5 * (1.0 + node), 0.5 * weight
        places.append(start + span * (1.0 - (1.0 - s) ** 2 if last else s))
        lengths.append(span * weight * (2.0 * (1.0 - s) if last else 1.0))
    y, length = np.concatenate(places), np.concatenate(lengths)
    along = {
        name: np.interp(y, blade.y, getattr(blade, name))
        for name in ("chord", "twist", "aft", "lift_added", "moment_added")
    }
    of_each = np.array([np.interp(y, blade.section_y, row) for row in np.eye(blade.section_y.size)])
    return Elements(y=y, length=length, shares=of_each, sections=blade.sections, radius=blade.radius, **along)


def element_forces(parts: Elements, angle: Floats, reynolds: Floats, mach: Floats) -> SectionForces:
    """Coefficients of every element, from the sections' polars and what is added along the blade.

    Parameters
    ----------
    parts : Elements
        Of one blade. [-]
    angle : (..., e) array
        Angle of attack. [rad]
    reynolds, mach : arrays
        That go with ``angle``. [1]

    Returns
    -------
    SectionForces

    Notes
    -----
    Source: strip theory, elementary.
    """
    found = [look_up(polar, angle, reynolds, mach) for polar in parts.sections]
    if len(found) == 1:
        (one,) = found
        return SectionForces(one.lift + parts.lift_added, one.drag, one.moment + parts.moment_added, one.computed)
    pairs = list(zip(parts.shares, found, strict=True))
    return SectionForces(
        lift=np.sum([share * one.lift for share, one in pairs], axis=0) + parts.lift_added,
        drag=np.sum([share * one.drag for share, one in pairs], axis=0),
        moment=np.sum([share * one.moment for share, one in pairs], axis=0) + parts.moment_added,
        computed=np.all([one.computed | (share == 0.0) for share, one in pairs], axis=0),
    )
