"""What glue lines and bolts bear, as entered. Without a source a record is unvalidated, and so is its answer."""

import itertools
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from bladewright.drawing.quantities import Intensity, Record, Size, Strength, Unit
from bladewright.errors import BadInput
from bladewright.typed import as_custom


class BondStrength(Record):
    """What the cured film bears in one state, as a local stress at the end of a joint."""

    shear: Strength  # [Pa]
    peel: Strength  # [Pa] square to the film
    source: str | None = None


class BondAllowables(Record):
    """The film in each state a blade meets. Room-temperature data alone decide nothing."""

    room: BondStrength | None = None
    hot_wet: BondStrength | None = None
    cold: BondStrength | None = None
    sustained: BondStrength | None = None  # load that never leaves, as the centrifugal pull of a whole flight
    thickness_curve: tuple[tuple[Size, Unit], ...] = ()  # bondline [m] and share of its strength that is left
    thickness_source: str | None = None

    @model_validator(mode="after")
    def _thickness_goes_up(self) -> Self:
        for (first, _), (second, _) in itertools.pairwise(self.thickness_curve):
            if not second > first:
                allowed, fix = "increasing thickness", "put the rows in order of thickness, each once"
                wrong = BadInput("thickness_curve does not go up", value=second, allowed=allowed, fix=fix)
                raise as_custom(wrong)
        return self


class DoublerBolt(Record):
    """The bolts through the doubler and the grip's plates they hold the blade to."""

    name: str
    shear_strength: Strength  # [Pa]
    planes: Literal[1, 2]  # in which the grip shears each bolt
    grip_thickness: Size  # [m] of the grip's plates together
    grip_material: str  # key of the materials
    source: str | None = None


class TipBolts(Record):
    """The bolts that hold the tip weight if its bond does not."""

    count: int = Field(ge=1)
    diameter: Size  # [m]
    edge_distance: Size  # [m] from a hole's centre to the end of the wall the weight pulls toward
    planes: Literal[1, 2]
    shear_strength: Strength  # [Pa]
    source: str | None = None

    @model_validator(mode="after")
    def _inside_the_edge(self) -> Self:
        if not self.edge_distance > 0.5 * self.diameter:
            allowed = f"more than {0.5e3 * self.diameter:.4g} mm"
            wrong = BadInput("edge_distance: the hole breaks out of the edge", allowed=allowed, fix="move the bolt in")
            raise as_custom(wrong)
        return self


class CrackGrowth(Record):
    """How far a crack grows in one cycle: ``rate (K_max (1 - R)**ratio_exponent / reference)**exponent``."""

    rate: Size  # [m] in one cycle of the reference range
    reference: Intensity  # [Pa m^0.5]
    exponent: Annotated[float, Field(gt=0.0, le=10.0)]
    ratio_exponent: Annotated[float, Field(gt=0.0, le=1.0)]  # 1: the range alone drives it
    least: Intensity  # [Pa m^0.5] of the tests
    greatest: Intensity  # [Pa m^0.5] of the tests
    source: str | None = None
