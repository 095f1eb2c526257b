"""The turning blade as a beam, and how its inner end is held."""

import math
from dataclasses import dataclass, fields
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing
from bladewright.errors import BadInput

#: what the blades of a rotor do together: all alike, or each opposite to its neighbour
Pattern = Literal["collective", "cyclic"]

POSITIVE = (
    "mass_per_length",
    "chordwise_inertia",
    "normal_inertia",
    "axial",
    "flapwise",
    "chordwise",
    "torsion",
    "gyration_squared",
)


@dataclass(frozen=True, slots=True)
class PointMass:
    """A weight at one radius."""

    y: float  # [m]
    mass: float  # [kg]
    x: float = 0.0  # aft of the feathering axis [m]
    z: float = 0.0  # above it [m]


@dataclass(frozen=True, slots=True)
class BladeBeam:
    """A turning blade as a beam. Places in each section's own axes, x aft, z up, from the feathering axis."""

    y: Floats  # (n,) radii from root to tip; a step is two stations close together [m]
    twist: Floats  # (n,) section pitch with the lever at zero, nose-up [rad]
    mass_per_length: Floats  # (n,) [kg/m]
    mass_x: Floats  # (n,) centre of mass [m]
    mass_z: Floats  # (n,) [m]
    chordwise_inertia: Floats  # (n,) integral of x**2 dm per length [kg m]
    normal_inertia: Floats  # (n,) of z**2 [kg m]
    product_of_inertia: Floats  # (n,) of x z [kg m]
    axial: Floats  # (n,) E A [N]
    flapwise: Floats  # (n,) integral of E z**2 about the elastic centre [N m^2]
    chordwise: Floats  # (n,) of E x**2 [N m^2]
    bending_product: Floats  # (n,) of E x z [N m^2]
    elastic_x: Floats  # (n,) elastic centre [m]
    elastic_z: Floats  # (n,) [m]
    torsion: Floats  # (n,) G J [N m^2]
    shear_x: Floats  # (n,) shear centre [m]
    shear_z: Floats  # (n,) [m]
    gyration_squared: Floats  # (n,) polar, of the bearing area about the elastic centre [m^2]
    masses: tuple[PointMass, ...] = ()

    def __post_init__(self) -> None:
        require_finite(self.y, "y")
        require_increasing(self.y, "y")
        for name in _arrays(self):
            values = getattr(self, name)
            if values.shape != self.y.shape:
                raise BadInput(
                    "does not have a value for each station",
                    field=name,
                    value=len(values),
                    allowed=f"{len(self.y)} values",
                )
            require_finite(values, name)
        for name in POSITIVE:
            _require_positive(getattr(self, name), name, self.y)


@dataclass(frozen=True, slots=True)
class Root:
    """How the blade's inner end is held."""

    flap: Literal["teetering", "hinged", "clamped"]
    control_stiffness: float  # against turning about the feathering axis; 0 loose, infinite held [N m/rad]
    hinge_offset: float = 0.0  # flap hinge from the rotor axis [m]
    precone: float = 0.0  # [rad]

    def __post_init__(self) -> None:
        for name in ("control_stiffness", "hinge_offset"):
            value = getattr(self, name)
            if math.isnan(value) or value < 0.0:
                raise BadInput("is below nought", field=name, value=f"{value:g}", allowed="0 or more")


def _arrays(beam: BladeBeam) -> tuple[str, ...]:
    return tuple(field.name for field in fields(beam) if field.name not in ("y", "masses"))


def _require_positive(values: Floats, field: str, y: Floats) -> None:
    bad = ~(values > 0.0)
    if not bad.any():
        return
    at = int(np.argmax(bad))
    raise BadInput(
        f"a blade has none at radius {y[at]:.4g} m",
        field=field,
        row=at + 1,
        value=f"{values[at]:g}",
        allowed="more than 0",
        fix="enter what the blade is made of at that station",
    )
