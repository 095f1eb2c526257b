"""What a whole batch, or one blade of a pair, that came out with another reflex does to hand and track."""

from dataclasses import dataclass, replace

import numpy as np

from bladewright.design.answers import whole_name
from bladewright.design.as_built import CHANGE, as_built
from bladewright.design.handle_range import judged_cases
from bladewright.design.records import Departure
from bladewright.design.reflex_bend import ANGLE, bend_of
from bladewright.design.spanwise import span_mass
from bladewright.design.track import split_from_mate
from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Figure, Missing

NOT_TRACKED = Missing("track split of unlike mates", ("rotor.control.stiffness_low", "rotor.control.stiffness_high"))


@dataclass(frozen=True, slots=True)
class OffBatch:
    """Blades whose reflex is not the drawing's by so much."""

    off: Figure  # [deg]
    both: tuple[Figure, ...]  # change of handle force with all mates alike, by condition [N]
    one: tuple[Figure, ...]  # with one of them, the others as drawn [N]
    track: tuple[Figure, ...]  # tip of the one over its mates, control run at its softest and its stiffest [mm]
    direction_known: bool | None  # whether soft and stiff agree on who flies high; None where it is not worked out
    missing: tuple[Missing, ...]


def off_batch(drawing: BladeDrawing, off: float) -> OffBatch:
    """The change against the drawing when the finished reflex is off by an angle [rad]."""
    bent = as_built(drawing, [Departure(ANGLE, bend_of(drawing).angle + off, 0.0)])
    effects = {figure.name.removeprefix(CHANGE): figure for figure in bent.effects}
    cases, _ = judged_cases(drawing, span_mass(drawing))
    wanted = [effects[whole_name(case.case)] for case in cases if whole_name(case.case) in effects]
    blades = drawing.rotor.blades if drawing.rotor is not None else 1
    track, known = _track(drawing, effects)
    return OffBatch(
        off=Figure("reflex off the drawing", float(np.degrees(off)), "deg", 0.0, "entered"),
        both=tuple(replace(figure, name=f"both mates: {figure.name}") for figure in wanted),
        one=tuple(
            replace(
                figure,
                name=f"one mate: {figure.name.removesuffix(', all blades alike')}",
                value=figure.value / blades,
                uncertainty=None if figure.uncertainty is None else figure.uncertainty / blades,
            )
            for figure in wanted
        ),
        track=track,
        direction_known=known,
        missing=() if track else (NOT_TRACKED,),
    )


def _track(drawing: BladeDrawing, effects: dict[str, Figure]) -> tuple[tuple[Figure, ...], bool | None]:
    pitch, moment = effects["effective pitch"], effects["section moment coefficient"]
    split = split_from_mate(drawing, float(np.radians(pitch.value)), moment.value)
    if split is None:
        return (), None
    figures = tuple(
        replace(
            pitch,
            name=f"tip above its mate, control run {words}",
            value=1e3 * height,
            unit="mm",
            uncertainty=None,
            method=f"effective pitch and wind-up of the control run; docs/theory/track; {pitch.method}",
        )
        for words, height in (("at its softest", split.soft), ("at its stiffest", split.stiff))
    )
    return figures, split.direction != "not determined"
