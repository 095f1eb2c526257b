"""The drawn section and planform to scale, with what is built in: plain lines for whoever draws them."""

from collections.abc import Iterator

import numpy as np

from bladewright.design.outline import chord_at, section_outline
from bladewright.design.properties import USUAL_PLACE
from bladewright.design.section_layout import SectionLayout, section_layout
from bladewright.design.spanwise import mass_gaps
from bladewright.drawing.blade import Doubler, Filler, TipWeight
from bladewright.drawing.file import BladeDrawing
from bladewright.engine.arrays import Floats
from bladewright.engine.structure.layers import heights
from bladewright.figures import Axis, Chart, Curve

MILLI = 1e3
AFT = Axis("from the leading edge", "mm")
UP = Axis("above the chord line", "mm")
RADIUS = Axis("radius", "mm")
BEHIND = Axis("aft of the feathering axis", "mm", downward=True)
PLACES = 61
WEIGHT_SHOWN = 0.008  # [m] either side of a tip weight's centre, from above; how wide it is the section shows


def section_to_scale(drawing: BladeDrawing, at: float | None = None) -> Chart:
    """Skins and spar, and with where they reach doubler, filler and tip weight, on the chord at a radius [m].

    By default at three quarters. Without spar or adhesive the outline alone; ``BadInput`` where the parts do not fit.
    """
    radius = USUAL_PLACE * drawing.planform.tip if at is None else at
    chord = chord_at(drawing, radius)
    bent = drawing.reflex
    told = f"reflex {np.degrees(bent.angle):.2f} deg of the {bent.side} skin" if bent else "no reflex"
    note = f"Chord {MILLI * chord:.1f} mm at {MILLI * radius:.0f} mm radius, {told}."
    if mass_gaps(drawing):
        outline = section_outline(drawing)
        curves = [_area("skins", np.concatenate((outline.top[::-1], outline.bottom[1:])) * chord)]
        note += f" What is inside is not drawn: the drawing has no {' and no '.join(mass_gaps(drawing)[0].needs)}."
    else:
        layout = section_layout(drawing, np.array([chord]))
        curves = [*_walls(drawing, layout), *_built_in(drawing, layout, chord)]
    curves.append(_mark("feathering axis", drawing.planform.feathering_axis * chord, curves[0]))
    name = f"Section of {drawing.name}"
    return Chart("section-to-scale", name, AFT, UP, tuple(curves), note=note, true_scale=True)


def planform_to_scale(drawing: BladeDrawing) -> Chart:
    """The blade from above, leading edge up: spar, reflex, doubler with its bolts, tip weight, pockets."""
    plan = drawing.planform
    curves = [_strip(drawing, "blade", plan.root, plan.tip, 0.0, 1.0)]
    if drawing.spar is not None:
        curves.append(_strip(drawing, "spar", plan.root, plan.tip, 0.0, drawing.spar.web_place))
    if drawing.reflex is not None:
        curves.append(_strip(drawing, "reflex", plan.airfoil_start, plan.tip, drawing.reflex.start, 1.0))
    if (doubler := drawing.doubler) is not None:
        words = f"doubler and its {len(doubler.bolts)} bolts" if doubler.bolts else "doubler"
        curves.append(_strip(drawing, words, doubler.inner, doubler.outer, doubler.front, doubler.back))
        curves += [_hole(bolt.radius, bolt.chordwise, bolt.diameter) for bolt in doubler.bolts]
    if (filler := drawing.filler) is not None:
        curves.append(_strip(drawing, "filler", filler.inner, filler.outer, filler.front, filler.back))
    if (weight := drawing.tip_weight) is not None:
        middle = _behind(drawing, weight.outer, weight.chordwise)
        corners = [(weight.inner, middle - WEIGHT_SHOWN), (weight.outer, middle - WEIGHT_SHOWN),
                   (weight.outer, middle + WEIGHT_SHOWN), (weight.inner, middle + WEIGHT_SHOWN)]  # fmt: skip
        curves.append(_area(f"tip weight {weight.mass:.3f} kg", np.array(corners)))
    axis = ((MILLI * plan.root, MILLI * plan.tip), (0.0, 0.0))
    curves.append(Curve("feathering axis", *axis, beside=True))
    note = f"Root {MILLI * plan.root:.0f} mm, tip {MILLI * plan.tip:.0f} mm radius. The leading edge is on top."
    name = f"Planform of {drawing.name}"
    return Chart("planform-to-scale", name, RADIUS, BEHIND, tuple(curves), note=note, true_scale=True)


def _walls(drawing: BladeDrawing, layout: SectionLayout) -> Iterator[Curve]:
    """The skin's two faces as one ring, the spar round its hollow."""
    assert drawing.spar is not None
    yield _area("skins", layout.outer[0], layout.inner[0])
    back = float(drawing.spar.web_place * layout.chord[0] + 0.5 * drawing.spar.web)
    face = layout.spar_face
    (top,), (bottom,) = (side[0] for side in heights(face, np.array([[back]])))
    ahead = face[0][face[0][:, 0] < back]
    around = np.array([(back, top), *ahead, (back, bottom)])
    x = layout.hollow[0]
    hollow = np.concatenate(
        (np.column_stack((x, layout.hollow_top[0])), np.column_stack((x, layout.hollow_bottom[0]))[::-1])
    )
    yield _area("spar", around, hollow)


def _built_in(drawing: BladeDrawing, layout: SectionLayout, chord: float) -> Iterator[Curve]:
    if drawing.doubler is not None:
        yield from _doubler(drawing, drawing.doubler, layout, chord)
    if drawing.filler is not None:
        yield _filler(drawing.filler, layout, chord)
    if drawing.tip_weight is not None:
        yield _weight(drawing.tip_weight, layout, chord)


def _doubler(drawing: BladeDrawing, doubler: Doubler, layout: SectionLayout, chord: float) -> Iterator[Curve]:
    assert drawing.adhesive is not None
    x = chord * np.linspace(doubler.front, doubler.back, PLACES)[None, :]
    glue = drawing.adhesive.bondline
    near, far = (heights(layout.laid(-depth), x) for depth in (glue, glue + doubler.thickness))
    words = f"doubler, {_reach(doubler.inner, doubler.outer)}"
    for low, high in zip(near, far, strict=True):
        yield _area(words, np.concatenate((np.column_stack((x[0], low[0])), np.column_stack((x[0], high[0]))[::-1])))


def _filler(filler: Filler, layout: SectionLayout, chord: float) -> Curve:
    x = chord * np.linspace(filler.front, filler.back, PLACES)[None, :]
    top, bottom = heights(layout.inner, x)
    around = np.concatenate((np.column_stack((x[0], top[0])), np.column_stack((x[0], bottom[0]))[::-1]))
    return _area(f"filler, {_reach(filler.inner, filler.outer)}", around)


def _weight(weight: TipWeight, layout: SectionLayout, chord: float) -> Curve:
    """The bar of the layout, of its own metal and as deep as the hollow where its centre lies, drawn in the hollow."""
    area = next(float(part.moments[0, 0]) for part in layout.parts if part.name == "tip weight")
    x = weight.chordwise * chord
    top, bottom = (float(np.interp(x, layout.hollow[0], side[0])) for side in (layout.hollow_top, layout.hollow_bottom))
    half = 0.5 * area / (top - bottom)
    corners = [(x - half, bottom), (x + half, bottom), (x + half, top), (x - half, top)]
    return _area(f"tip weight, {_reach(weight.inner, weight.outer)}", np.array(corners))


def _reach(inner: float, outer: float) -> str:
    return f"radius {MILLI * inner:.0f} to {MILLI * outer:.0f} mm"


def _strip(drawing: BladeDrawing, name: str, inner: float, outer: float, front: float, back: float) -> Curve:
    radii = [inner, *(s.radius for s in drawing.planform.stations if inner < s.radius < outer), outer]
    ahead = [(radius, _behind(drawing, radius, front)) for radius in radii]
    behind = [(radius, _behind(drawing, radius, back)) for radius in reversed(radii)]
    return _area(name, np.array(ahead + behind))


def _behind(drawing: BladeDrawing, radius: float, fraction: float) -> float:
    return (fraction - drawing.planform.feathering_axis) * chord_at(drawing, radius)


def _hole(radius: float, chordwise: float, diameter: float) -> Curve:
    turn = np.linspace(0.0, 2.0 * np.pi, 25)[:-1]
    half = 0.5 * diameter
    return _area("bolt hole", np.column_stack((radius + half * np.cos(turn), chordwise + half * np.sin(turn))))


def _mark(name: str, x: float, around: Curve) -> Curve:
    """An upright line through a place of the chord, as high as what it goes through."""
    heights_seen = [height for height in around.y if height is not None]
    ends = min(heights_seen), max(heights_seen)
    return Curve(name, (MILLI * x, MILLI * x), ends, beside=True)


def _area(name: str, *rings: Floats) -> Curve:
    """Closed lines, one inside the other where there are two; between them a gap."""
    x: list[float] = []
    y: list[float | None] = []
    for ring in rings:
        x += [*([0.0] if x else []), *(MILLI * ring[:, 0]).tolist(), MILLI * float(ring[0, 0])]
        y += [*([None] if y else []), *(MILLI * ring[:, 1]).tolist(), MILLI * float(ring[0, 1])]
    return Curve(name, tuple(x), tuple(y))
