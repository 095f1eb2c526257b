"""A blade that gained or lost mass: paint, moisture, a strip, a tip weight that flew off; or whose mass has moved."""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np

from bladewright.engine.arrays import Floats, require_finite
from bladewright.engine.dynamics.along_span import span_points
from bladewright.engine.dynamics.blade_beam import BladeBeam, PointMass
from bladewright.errors import BadInput

STEP = 1e-6  # between the two stations of a step [m]


@dataclass(frozen=True, slots=True)
class AddedMass:
    """Spread evenly over a radius range at one place of the section; below zero it is mass lost."""

    inner: float  # [m]
    outer: float  # [m]
    mass_per_length: float  # [kg/m]
    x: float  # aft of the feathering axis [m]
    z: float = 0.0  # above it [m]
    chordwise_spread: float = 0.0  # its own radius of gyration along the chord: width / sqrt 12 of a strip [m]

    def __post_init__(self) -> None:
        for field in fields(self):
            require_finite(np.array([getattr(self, field.name)]), field.name)
        if not self.outer - self.inner > 2.0 * STEP:
            raise BadInput(
                "ends before it begins", field="outer", value=self.outer, allowed=f"more than {self.inner:.6g} m"
            )


def span_weighted_offset(beam: BladeBeam) -> float:
    """Place of the mass aft of the feathering axis, each part weighed by its radius: ``int m x y / int m y``.

    Parameters
    ----------
    beam : BladeBeam
        [-]

    Returns
    -------
    float
        [m]

    Notes
    -----
    Source: R. H. Miller, C. W. Ellis, J. Am. Helicopter Soc. 1, 1956 (from memory): what drives a blade's flutter.
    """
    y, length = span_points(beam.y)
    pull = np.interp(y, beam.y, beam.mass_per_length) * y * length
    moment = pull.sum() + sum(one.mass * one.y for one in beam.masses)
    first = pull @ np.interp(y, beam.y, beam.mass_x) + sum(one.mass * one.x * one.y for one in beam.masses)
    return float(first / moment)


def mass_shifted(beam: BladeBeam, aft: float) -> BladeBeam:
    """The same blade with all of its mass moved along the chord, its inertias about the axis with it.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    aft : float
        [m]

    Returns
    -------
    BladeBeam

    Notes
    -----
    Source: parallel axes, elementary.
    """
    mass, x, z = beam.mass_per_length, beam.mass_x, beam.mass_z
    return replace(
        beam,
        mass_x=x + aft,
        chordwise_inertia=beam.chordwise_inertia + mass * aft * (2.0 * x + aft),
        product_of_inertia=beam.product_of_inertia + mass * aft * z,
        masses=tuple(replace(one, x=one.x + aft) for one in beam.masses),
    )


def mass_added(beam: BladeBeam, added: Sequence[AddedMass]) -> BladeBeam:
    """The blade with more, or with less; stations are put in where a range ends.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    added : sequence of AddedMass
        One after the other. [-]

    Returns
    -------
    BladeBeam

    Raises
    ------
    BadInput
        If a range leaves the blade, or takes away more mass than is there.

    Notes
    -----
    Mass without stiffness: what a coat or a strip holds is left out.

    Source: parallel axes, elementary.
    """
    for one in added:
        for name in ("inner", "outer"):
            at = getattr(one, name)
            if not beam.y[0] <= at <= beam.y[-1]:
                raise BadInput(
                    "lies beyond the blade", field=name, value=at, allowed=f"{beam.y[0]:.6g} to {beam.y[-1]:.6g} m"
                )
        beam = _with(_stepped(beam, one.inner, one.outer), one)
    return beam


def tip_weight_lost(beam: BladeBeam, number: int) -> BladeBeam:
    """The blade without one of its weights.

    Parameters
    ----------
    beam : BladeBeam
        [-]
    number : int
        Which of its weights, from 0. [-]

    Returns
    -------
    BladeBeam

    Raises
    ------
    BadInput
        If there is no such weight.

    Notes
    -----
    Source: elementary.
    """
    if not 0 <= number < len(beam.masses):
        raise BadInput(
            "there is no such weight", field="number", value=number, allowed=f"0 to {len(beam.masses) - 1}",
            fix="take one of the blade's own weights" if beam.masses else "enter the tip weight as a weight",
        )  # fmt: skip
    kept: tuple[PointMass, ...] = (*beam.masses[:number], *beam.masses[number + 1 :])
    return replace(beam, masses=kept)


def _stepped(beam: BladeBeam, inner: float, outer: float) -> BladeBeam:
    """With the stations an added range needs, each end a step whose inside is the range's."""
    wanted = np.array([inner - STEP, inner, outer, outer + STEP])
    wanted = wanted[(wanted > beam.y[0]) & (wanted < beam.y[-1])]
    new = wanted[np.abs(wanted[:, None] - beam.y).min(axis=1) > 0.5 * STEP]
    y = np.union1d(beam.y, new)
    arrays = [one.name for one in fields(beam) if one.name not in ("y", "masses")]
    return replace(beam, y=y, **{name: np.interp(y, beam.y, getattr(beam, name)) for name in arrays})


def _with(beam: BladeBeam, added: AddedMass) -> BladeBeam:
    inside = (beam.y > added.inner - 0.5 * STEP) & (beam.y < added.outer + 0.5 * STEP)
    more: Floats = np.where(inside, added.mass_per_length, 0.0)
    mass = beam.mass_per_length + more
    if np.any(mass <= 0.0):
        at = int(np.argmax(mass <= 0.0))
        raise BadInput(
            "more is taken away than the blade has there", field="mass_per_length", row=at + 1,
            value=added.mass_per_length, allowed=f"more than {-beam.mass_per_length[at]:.6g} kg/m",
        )  # fmt: skip
    return replace(
        beam,
        mass_per_length=mass,
        mass_x=(beam.mass_per_length * beam.mass_x + more * added.x) / mass,
        mass_z=(beam.mass_per_length * beam.mass_z + more * added.z) / mass,
        chordwise_inertia=beam.chordwise_inertia + more * (added.x**2 + added.chordwise_spread**2),
        normal_inertia=beam.normal_inertia + more * added.z**2,
        product_of_inertia=beam.product_of_inertia + more * added.x * added.z,
    )
