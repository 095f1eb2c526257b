"""The blade as drawn: section, planform, twist, reflex, skins, spar, doubler, tip weight, adhesive, trim, finish.

Lengths in metres, angles in radians once read. Chordwise places are fractions of the chord from the leading edge
unless a field says metres. Everything optional may be left out: it is then known to be missing.
"""

from typing import Literal, Self

from pydantic import Field, model_validator

from bladewright.drawing.allowables import BondAllowables, DoublerBolt, TipBolts
from bladewright.drawing.cure_entries import CureKinetics
from bladewright.drawing.order import require_order
from bladewright.drawing.quantities import Angle, Area, AreaDensity, Fraction, Inside, Length, Mass, Record, Size
from bladewright.errors import BadInput
from bladewright.typed import as_custom


class Section(Record):
    """The section outline, by designation or by coordinates. One of the two."""

    designation: str | None = Field(default=None, pattern=r"^\d{4,5}$")  # four- or five-digit, like "2412", "23112"
    trailing_edge: Literal["open", "closed", "rescaled"] | None = None  # how the thickness form ends
    top: tuple[tuple[Fraction, Fraction], ...] | None = None  # (x/c, z/c) from the leading edge aft
    bottom: tuple[tuple[Fraction, Fraction], ...] | None = None
    turbulent_from: Fraction | None = None  # where paint, dirt or an edge makes the boundary layer turn, both sides
    source: str | None = None


class Station(Record):
    """Chord and twist at one radius; straight lines between stations."""

    radius: Length  # [m]
    chord: Size  # [m]
    twist: Angle = Field(default=0.0)  # [rad] nose-up positive, against the 0.75 R section's datum


class Planform(Record):
    """Where the blade begins and ends, and its chord and twist between."""

    root: Length  # [m] radius of the blade's inner end
    tip: Size  # [m] rotor radius
    airfoil_start: Length  # [m] radius where the section begins to lift
    feathering_axis: Fraction  # of the chord, from the leading edge
    stations: tuple[Station, ...]


class LooseSkinReflex(Record):
    """What the reflex roll must leave in the skin before bonding. It is not the finished blade's."""

    angle: Angle  # [rad]
    tolerance: Angle | None = None  # [rad]
    datum: str  # what the angle is measured against
    gauge_length: Size  # [m]


class MouldReflex(Record):
    """What is cut into the mould."""

    angle: Angle  # [rad]
    tolerance: Angle | None = None  # [rad]


class Reflex(Record):
    """The bend near the trailing edge, trailing edge up positive, of the finished blade."""

    side: Literal["top", "bottom"]  # the skin the roll bends
    start: Inside  # of the chord, where the bend begins
    angle: Angle  # [rad] of the bent skin on the finished blade
    other_skin_follows: bool  # False: only one surface turns and the mean line by about half
    tolerance: Angle | None = None  # [rad]
    loose_skin: LooseSkinReflex | None = None
    mould: MouldReflex | None = None
    loose_to_mould_limit: Angle | None = None  # [rad] beyond this, bonding locks peel into the seam


class Skin(Record):
    """The two skins, from leading edge to trailing edge."""

    material: str
    top_thickness: Size  # [m]
    bottom_thickness: Size  # [m]
    tolerance: Length | None = None  # [m]


class Spar(Record):
    """The nose spar: an extrusion machined on both sides to leave the glue line between it and the skins."""

    material: str
    top_wall: Size  # [m]
    bottom_wall: Size  # [m]
    nose_wall: Size  # [m] along the chord, at the leading edge
    web: Size  # [m]
    web_place: Inside  # of the chord, middle of the web
    extrusion_allowance: Length | None = None  # [m] left on each side for machining
    tolerance: Length | None = None  # [m] on the machined depth


class BoltHole(Record):
    """One hole through doubler and spar."""

    radius: Length  # [m]
    chordwise: Length  # [m] aft of the feathering axis
    diameter: Size  # [m]
    place_tolerance: Length | None = None  # [m]


class Doubler(Record):
    """Root reinforcement, bonded to both skins, with its bolt pattern."""

    material: str
    thickness: Size  # [m] each side
    inner: Length  # [m] radius
    outer: Length  # [m] radius
    front: Fraction = 0.0  # of the chord
    back: Fraction = 1.0
    bolts: tuple[BoltHole, ...] = ()
    bolt: DoublerBolt | None = None


class TipWeight(Record):
    """The weight bonded and bolted in at the tip."""

    material: str
    mass: Mass  # [kg]
    inner: Length  # [m] radius
    outer: Length  # [m] radius
    chordwise: Fraction  # its mass centre, of the chord
    height: Length = 0.0  # [m] its mass centre above the chord line
    bond_area: Area | None = None  # [m^2] of film that holds it
    bolts: TipBolts | None = None


class Filler(Record):
    """What fills the room between the skins behind the spar, bonded to both."""

    material: str  # bears where its moduli are entered
    front: Inside  # of the chord
    back: Inside
    inner: Length  # [m] radius
    outer: Length  # [m] radius


class ErosionTape(Record):
    """Tape round the nose, outside the paint. It weighs and bears nothing."""

    area_density: AreaDensity  # [kg/m^2]
    back: Inside  # of the chord, on both sides
    inner: Length  # [m] radius
    outer: Length  # [m] radius


class Adhesive(Record):
    """The film, the glue line it must leave, and the trailing-edge seam."""

    material: str
    name: str
    bondline_least: Size  # [m]
    bondline_greatest: Size  # [m]
    seam_start: Inside  # of the chord: from here aft the skins are bonded to each other
    fillable_gap: Size | None = None  # [m] a gap wider than this counts as unbonded
    out_time_limit_hours: float | None = None
    allowables: BondAllowables | None = None
    kinetics: CureKinetics | None = None
    source: str | None = None

    @model_validator(mode="after")
    def _goes_up(self) -> Self:
        if not self.bondline_greatest > self.bondline_least:
            what = "bondline_greatest is not more than bondline_least"
            raise as_custom(BadInput(what, allowed="more than bondline_least", fix="check both, and their units"))
        require_order("fillable_gap", self.bondline_greatest, self.fillable_gap, "at or above bondline_greatest")
        return self

    @property
    def bondline(self) -> float:
        """Middle of the allowed glue line. [m]"""
        return 0.5 * (self.bondline_least + self.bondline_greatest)


class TrimPocket(Record):
    """A place where balance weight may be put, and how much it holds."""

    name: str
    radius: Length  # [m]
    chordwise: Fraction  # of the chord
    greatest: Mass  # [kg]


class Trim(Record):
    """Places for balance weight, and the trailing-edge trim tab."""

    pockets: tuple[TrimPocket, ...] = ()
    tab_inner: Length | None = None  # [m]
    tab_outer: Length | None = None  # [m]
    tab_chord: Length | None = None  # [m]
    tab_angle: Angle | None = None  # [rad] trailing edge up positive


class Finish(Record):
    """Paint: its mass matters to balance and to flutter."""

    area_density: AreaDensity  # [kg/m^2]
