"""How much damage each zone of the blade may fly with, as entered. A zone without a limit allows none."""

from typing import Annotated, Self

from pydantic import Field, model_validator

from bladewright.drawing.order import require_told_apart
from bladewright.drawing.quantities import Area, Length, Record, Size, Unit
from bladewright.errors import BadInput
from bladewright.typed import as_custom

Least = Annotated[Length, Field(ge=0.0)]


class DamageZone(Record):
    """A stretch of the span and of the chord, and the greatest damage allowed in it."""

    name: str
    inner: Unit  # of the rotor radius
    outer: Unit  # of the rotor radius
    front: Unit  # of the chord
    back: Unit  # of the chord
    nick_depth: Least | None = None  # [m]
    dent_depth: Least | None = None  # [m]
    void_along: Least | None = None  # [m] along the span
    void_across: Least | None = None  # [m] along the chord
    void_area: Area | None = None  # [m^2]
    source: str | None = None

    @model_validator(mode="after")
    def _has_an_extent(self) -> Self:
        for first, second in (("inner", "outer"), ("front", "back")):
            if not getattr(self, second) > getattr(self, first):
                wrong = BadInput(f"{second} is not beyond {first}", allowed=f"more than {first}",
                                 fix=f"check {first} and {second}")  # fmt: skip
                raise as_custom(wrong)
        return self


class DamageLimits(Record):
    """The zones, and what an inspection can find."""

    zones: tuple[DamageZone, ...]
    detectable_crack: Size | None = None  # [m] the shortest an inspection finds for certain
    interval_factor: Annotated[float, Field(ge=1.0, le=20.0)] | None = None  # inspections while a crack is findable
    decided_by: str | None = None  # the office that may decide on damage outside, like "design authority"
    source: str | None = None

    @model_validator(mode="after")
    def _told_apart(self) -> Self:
        require_told_apart("zones", (zone.name for zone in self.zones))
        return self
