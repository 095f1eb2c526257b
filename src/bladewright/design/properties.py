"""What the drawn blade weighs, where, and how stiff it is, as figures with what they rest on."""

import dataclasses
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bladewright.design.section_constants import (
    SectionConstants,
    SectionStiffness,
    section_constants,
    section_stiffness,
)
from bladewright.design.section_layout import Part
from bladewright.design.spanwise import Spanwise, mass_gaps, spanwise
from bladewright.drawing.blade import TipWeight
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.structure.moments import centre, moments_about
from bladewright.errors import BadInput
from bladewright.figures import Figure, Missing

USUAL_PLACE = 0.75  # of the rotor radius: where a section stands for the blade
WARPING_METHOD = "finite elements of every bonded part; docs/theory/section-constants"
WARPING_VALIDITY = (
    "free to warp, perfect bonds, any thickness, the tip weight left out; G J within 2 %, shear centre within 0.5 % of "
    "the chord of finer elements; not near where a part begins or ends along the span"
)
SOURCE = "entered dimensions and materials; Green's theorem"
WARPING_SOURCE = "B. de Saint-Venant, 1855 and 1856 (from memory)"
METHOD = "areas of the drawn parts; docs/theory/section-constants"
VALIDITY = "parts exactly as drawn; bolts and bushings count as the metal they replace"
#: left out, the blade weighs less than it will
OPTIONAL = {"doubler": "the doubler's mass", "tip_weight": "the tip weight's mass", "finish": "the paint's mass"}


@dataclass(frozen=True, slots=True)
class PartShare:
    """One part of the section and what it brings."""

    part: str
    material: str
    mass_per_length: float  # [kg/m]
    share_of_mass: float  # [1]
    chordwise_centre: float  # from the leading edge [m]


@dataclass(frozen=True, slots=True)
class BladeProperties:
    """The blade, one of its sections, and that section's parts."""

    blade: tuple[Figure, ...]
    section: tuple[Figure, ...]
    section_radius: float  # [m]
    parts: tuple[PartShare, ...]
    missing: tuple[Missing, ...]


def blade_properties(drawing: BladeDrawing, at: float | None = None) -> BladeProperties:
    """Mass and stiffness of the blade, and of its section at a radius [m], by default at three quarters."""
    radius = USUAL_PLACE * drawing.planform.tip if at is None else at
    if not drawing.planform.root <= radius <= drawing.planform.tip:
        raise BadInput(
            "is not on the blade",
            field="at",
            value=f"{radius:g} m",
            allowed=f"{drawing.planform.root:g} m to {drawing.planform.tip:g} m",
            fix="enter a radius between root and tip",
        )
    missing = mass_gaps(drawing)
    if missing:
        return BladeProperties((), (), radius, (), missing)
    sections = section_constants(drawing, np.array([radius]))
    stiffness = section_stiffness(drawing, sections)
    gaps = tuple(Missing(words, (field,)) for field, words in OPTIONAL.items() if getattr(drawing, field) is None)
    return BladeProperties(
        blade=_blade(drawing, spanwise(drawing)),
        section=(*_section(drawing, sections), *_stiffness(drawing, stiffness)),
        section_radius=radius,
        parts=_shares(sections.parts),
        missing=(*gaps, *stiffness.missing),
    )


def _figure(drawing: BladeDrawing, name: str, value: float, unit: str) -> Figure:
    return Figure(
        name, value, unit, method=METHOD, validity=VALIDITY, source=SOURCE, validated=drawing.materials_validated
    )


def _blade(drawing: BladeDrawing, span: Spanwise) -> tuple[Figure, ...]:
    mass = span.mass
    rows = [
        ("mass", span.total_mass, "kg"),
        ("span moment", span.span_moment, "kg m"),
        ("flapping inertia", span.flap_inertia, "kg m^2"),
        ("chordwise centre of mass, aft of the feathering axis", span.chordwise_centre, "m"),
        (
            "feathering inertia",
            float(np.trapezoid(mass.chordwise_inertia + mass.normal_inertia, span.y)),
            "kg m^2",
        ),
    ]
    if drawing.tip_weight is not None:
        rows.append(("tip weight's section over the spar's hollow", _filling(drawing, drawing.tip_weight), "1"))
    if drawing.rotor is not None:
        pull = float(span.centrifugal_force(drawing.rotor.speeds.normal)[0])
        rows.append(("centrifugal force at the root, normal rotor speed", pull, "N"))
    return tuple(_does_it_fit(_figure(drawing, *row)) for row in rows)


def _filling(drawing: BladeDrawing, weight: TipWeight) -> float:
    """How much of the hollow the tip weight takes up; more than one does not go in."""
    sections = section_constants(drawing, np.array([weight.inner]))
    layout = sections.layout
    hollow = float(np.trapezoid(layout.hollow_top[0] - layout.hollow_bottom[0], layout.hollow[0]))
    area = next(float(part.moments[0, 0]) for part in sections.parts if part.name == "tip weight")
    return area / hollow


def _does_it_fit(figure: Figure) -> Figure:
    if figure.unit != "1":
        return figure
    return dataclasses.replace(
        figure, validity="at most 1, or the weight does not fit in the hollow", inside_validity=figure.value <= 1.0
    )


def _section(drawing: BladeDrawing, sections: SectionConstants) -> tuple[Figure, ...]:
    mass, chord = sections.mass[0], float(sections.chord[0])
    x, z = (float(place) for place in centre(mass))
    axis = drawing.planform.feathering_axis * chord
    _, _, _, xx, zz, xz = moments_about(mass, np.array(axis), np.array(0.0))
    rows = (
        ("mass per length", float(mass[0]), "kg/m"),
        ("centre of mass, from the leading edge", x, "m"),
        ("centre of mass, aft of the feathering axis", x - axis, "m"),
        ("centre of mass, above the chord line", z, "m"),
        ("chordwise inertia per length, about the feathering axis", float(xx), "kg m^2/m"),
        ("normal inertia per length, about the feathering axis", float(zz), "kg m^2/m"),
        ("product of inertia per length, about the feathering axis", float(xz), "kg m^2/m"),
    )
    return tuple(_figure(drawing, *row) for row in rows)


def _stiffness(drawing: BladeDrawing, found: SectionStiffness) -> tuple[Figure, ...]:
    figures: list[Figure] = []
    bend = found.bending
    if bend is not None:
        rows = (
            ("axial stiffness E A", bend.axial, "N"),
            ("elastic centre, from the leading edge", bend.centre_x, "m"),
            ("elastic centre, above the chord line", bend.centre_z, "m"),
            ("flapwise bending stiffness", bend.flapwise, "N m^2"),
            ("chordwise bending stiffness", bend.chordwise, "N m^2"),
            ("product of bending stiffness", bend.product, "N m^2"),
            ("least bending stiffness", bend.least, "N m^2"),
            ("weak axis, trailing edge up from the chord line", bend.weak_axis, "rad"),
        )
        figures += [_figure(drawing, name, float(value[0]), unit) for name, value, unit in rows]
    warped = (
        ("torsional stiffness G J", found.torsion, "N m^2"),
        ("shear centre, from the leading edge", found.shear_x, "m"),
        ("shear centre, above the chord line", found.shear_z, "m"),
        ("chordwise shear stiffness", None if found.shearing is None else found.shearing[:, 0, 0], "N"),
        ("flapwise shear stiffness", None if found.shearing is None else found.shearing[:, 1, 1], "N"),
    )
    figures += [
        dataclasses.replace(
            _figure(drawing, name, float(value[0]), unit),
            method=WARPING_METHOD,
            validity=WARPING_VALIDITY,
            source=WARPING_SOURCE,
        )
        for name, value, unit in warped
        if value is not None
    ]
    return tuple(figures)


def _shares(parts: Sequence[Part]) -> tuple[PartShare, ...]:
    present = [part for part in parts if part.moments[0, 0] > 0.0]
    total = sum(part.density * float(part.moments[0, 0]) for part in present)
    return tuple(
        PartShare(
            part=part.name,
            material=part.material,
            mass_per_length=part.density * float(part.moments[0, 0]),
            share_of_mass=part.density * float(part.moments[0, 0]) / total,
            chordwise_centre=float(part.moments[0, 1] / part.moments[0, 0]),
        )
        for part in present
    )
