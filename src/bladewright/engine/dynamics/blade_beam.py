"""A blade as a beam, and how its inner end is held: what every file of this room starts from."""

from dataclasses import dataclass, fields
from typing import Literal

import numpy as np

from bladewright.engine.arrays import Floats, require_finite, require_increasing
from bladewright.errors import BadInput

Pattern = Literal["collective", "cyclic"]  # all blades alike, or each opposed by the others

STEP = 1e-5  # [m] stations nearer than this are the two sides of a step
GREATEST_PRECONE = 0.2  # [rad] its square is left out; 2 % of what stays

_POSITIVE = ("mass_per_length", "axial", "flapwise", "chordwise", "torsion")
_NOT_NEGATIVE = ("chordwise_inertia", "normal_inertia", "gyration_squared")


@dataclass(frozen=True, slots=True)
class PointMass:
    """A weight small enough to stand at one place: a tip weight, a balance weight."""

    y: float  # radius [m]
    mass: float  # [kg]
    x: float = 0.0  # aft of the feathering axis, in the section's own axes [m]
    z: float = 0.0  # above it [m]


@dataclass(frozen=True, slots=True)
class BladeBeam:
    """A turning blade as a beam. Places in each section's own axes, x aft and z up, from the feathering axis."""

    y: Floats  # (n,) radii from the blade's inner end to the tip; a step is two stations 1e-6 m apart [m]
    twist: Floats  # section pitch with the lever at zero, nose-up [rad]
    mass_per_length: Floats  # [kg/m]
    mass_x: Floats  # centre of mass [m]
    mass_z: Floats  # [m]
    chordwise_inertia: Floats  # integral of x**2 over the mass, about the feathering axis [kg m]
    normal_inertia: Floats  # of z**2 [kg m]
    product_of_inertia: Floats  # of x z [kg m]
    axial: Floats  # E A [N]
    flapwise: Floats  # integral of E z**2 about the elastic centre [N m^2]
    chordwise: Floats  # of E x**2 [N m^2]
    bending_product: Floats  # of E x z [N m^2]
    elastic_x: Floats  # elastic centre [m]
    elastic_z: Floats  # [m]
    torsion: Floats  # G J [N m^2]
    shear_x: Floats  # shear centre [m]
    shear_z: Floats  # [m]
    gyration_squared: Floats  # polar, of the load-bearing area about the elastic centre [m^2]
    masses: tuple[PointMass, ...] = ()

    def __post_init__(self) -> None:
        if self.y.ndim != 1 or self.y.size < 2:
            raise BadInput("a blade has an inner end and a tip", field="y", allowed="two stations or more")
        require_finite(self.y, "y")
        require_increasing(self.y, "y")
        if self.y[0] < 0.0:
            raise BadInput("begins beyond the axis", field="y", value=float(self.y[0]), allowed="0 or more")
        for field in fields(self):
            if field.name not in ("y", "masses"):
                self._check(field.name)
        self._check_tensors()
        for number, weight in enumerate(self.masses, start=1):
            _check_weight(weight, number, float(self.y[0]), float(self.y[-1]))

    def _check(self, name: str) -> None:
        """One array: its length, its numbers, its sign."""
        values: Floats = getattr(self, name)
        if values.shape != self.y.shape:
            raise BadInput("one value for each station", field=name, allowed=f"{self.y.size} values")
        require_finite(values, name)
        low = values <= 0.0 if name in _POSITIVE else values < 0.0 if name in _NOT_NEGATIVE else None
        if low is not None and low.any():
            at = int(np.argmax(low))
            raise BadInput(
                f"not possible at station {at + 1}, radius {self.y[at]:.6g} m",
                field=name,
                row=at + 1,
                value=float(values[at]),
                allowed="more than 0" if name in _POSITIVE else "0 or more",
                fix="see what the drawing gives for this station",
            )

    def _check_tensors(self) -> None:
        """Products of bending and of inertia that real parts can have."""
        about_centre = (
            self.chordwise_inertia - self.mass_per_length * self.mass_x**2,
            self.normal_inertia - self.mass_per_length * self.mass_z**2,
        )
        slack = 1e-9 * (self.chordwise_inertia + self.normal_inertia)
        for name, found in zip(("chordwise_inertia", "normal_inertia"), about_centre, strict=True):
            if (found < -slack).any():
                at = int(np.argmin(found))
                raise BadInput(
                    "less than the mass at its centre alone would have", field=name, row=at + 1,
                    value=float(getattr(self, name)[at]), allowed="mass per length times its offset squared, or more",
                    fix="give the inertia about the feathering axis, not about the centre of mass",
                )  # fmt: skip
        lost = self.bending_product**2 >= self.flapwise * self.chordwise
        if lost.any():
            at = int(np.argmax(lost))
            raise BadInput(
                "bending stiffness in some direction is not positive", field="bending_product", row=at + 1,
                value=float(self.bending_product[at]), allowed="its square less than flapwise times chordwise",
            )  # fmt: skip


def _check_weight(weight: PointMass, number: int, inner: float, tip: float) -> None:
    """A weight on the blade, with a mass."""
    for name in ("y", "mass", "x", "z"):
        require_finite(np.array([getattr(weight, name)]), f"masses[{number}].{name}")
    if weight.mass < 0.0:
        raise BadInput("a mass below nought", field=f"masses[{number}].mass", value=weight.mass, allowed="0 or more")
    if not inner <= weight.y <= tip + STEP:
        raise BadInput(
            "not on the blade", field=f"masses[{number}].y", value=weight.y, allowed=f"{inner:.6g} to {tip:.6g} m"
        )


@dataclass(frozen=True, slots=True)
class Root:
    """How the hub holds a blade. In the plane of rotation it is held at its inner end by every hub."""

    flap: Literal["teetering", "hinged", "clamped"]
    control_stiffness: float  # about the feathering axis, at the inner end; 0 loose, inf held [N m/rad]
    hinge_offset: float = 0.0  # flap hinge from the rotor axis; used by "hinged" alone [m]
    precone: float = 0.0  # small [rad]

    def __post_init__(self) -> None:
        if self.flap not in ("teetering", "hinged", "clamped"):
            raise BadInput("no such hub", field="flap", value=self.flap, allowed="teetering, hinged or clamped")
        if not self.control_stiffness >= 0.0:
            raise BadInput(
                "stiffness below nought", field="control_stiffness", value=self.control_stiffness, allowed="0 to inf"
            )
        if not (np.isfinite(self.hinge_offset) and self.hinge_offset >= 0.0):
            raise BadInput("not a hinge", field="hinge_offset", value=self.hinge_offset, allowed="0 or more")
        if not abs(self.precone) < GREATEST_PRECONE:
            raise BadInput(
                "too steep for what is linear in it", field="precone", value=self.precone, allowed="less than 0.2 rad"
            )

    def flaps_about(self, pattern: Pattern) -> float | None:
        """Radius [m] of the hinge the blade turns about in this pattern; None where it is clamped."""
        if pattern not in ("collective", "cyclic"):
            raise BadInput("no such pattern", field="pattern", value=pattern, allowed="collective or cyclic")
        if self.flap == "hinged":
            return self.hinge_offset
        return 0.0 if self.flap == "teetering" and pattern == "cyclic" else None
