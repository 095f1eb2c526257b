"""Other hubs, a taper, parts left out: an answer or the entry it waits for, never a fault and never a word too kind."""

from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.design.damage import damage_answer
from bladewright.design.damage_limits import Word
from bladewright.design.damage_place import Damage
from bladewright.design.life import life
from bladewright.design.strength_case import strength_case
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.figures import Outcome

FM31 = read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")
Change = Callable[[BladeDrawing], BladeDrawing]


def part(name: str, **entries: object) -> Change:
    return lambda drawing: drawing.model_copy(update={name: getattr(drawing, name).model_copy(update=entries)})


def without(**entries: object) -> Change:
    return lambda drawing: drawing.model_copy(update=entries)


def tapered(drawing: BladeDrawing) -> BladeDrawing:
    inner, outer = drawing.planform.stations
    return part("planform", stations=(inner, outer.model_copy(update={"chord": 0.15})))(drawing)


def skin(**entries: object) -> Change:
    changed = FM31.materials["skin-sheet"].model_copy(update=entries)
    return without(materials={**FM31.materials, "skin-sheet": changed})


ANSWERED = {
    "three blades on hinges": part("rotor", hub="hinged", hinge_offset=0.1, blades=3),
    "a hub without hinges": part("rotor", hub="rigid"),
    "no control run entered": part("rotor", control=None),
    "no reflex": without(reflex=None),
    "no tip weight": without(tip_weight=None),
    "no bolts": part("doubler", bolts=()),
    "no doubler": without(doubler=None, fatigue={}),
    "tapered": tapered,
}
WAITING = {
    "no adhesive": (without(adhesive=None), "adhesive"),
    "no spar": (without(spar=None, fatigue={}), "spar"),
    "no rotor": (without(rotor=None), "rotor"),
    "no loads": (without(loads=None), "loads"),
    "no modulus": (skin(youngs_modulus=None), "materials.skin-sheet.youngs_modulus"),
    "too heavy to hover": (part("rotor", gross_mass=3000.0), "a rotor that hovers: it stalls first"),
}


@pytest.mark.parametrize("change", ANSWERED.values(), ids=ANSWERED)
def test_there_are_margins_and_they_are_sorted(change: Change) -> None:
    answer = strength_case(change(FM31))
    values = [one.value for one in answer.margins]
    assert len(values) > 30
    assert values == sorted(values)
    assert answer.outcome is not Outcome.PASS


@pytest.mark.parametrize(("change", "need"), WAITING.values(), ids=WAITING)
def test_without_it_nothing_is_made_up(change: Change, need: str) -> None:
    drawing = change(FM31)
    strong, lasting = strength_case(drawing), life(drawing)
    assert strong.margins == ()
    assert strong.outcome is Outcome.MISSING
    assert lasting.figures == ()
    for answer in (strong, lasting):
        assert need in {entry for gap in answer.missing for entry in gap.needs}


@pytest.mark.parametrize(("change", "need"), WAITING.values(), ids=WAITING)
def test_the_entered_limit_stands_where_nothing_can_be_worked_out(change: Change, need: str) -> None:
    answer = damage_answer(change(FM31), Damage("nick", 3.0, 0.05, depth=0.2e-3))
    assert answer.word is Word.WITHIN
    assert need in {entry for gap in answer.missing for entry in gap.needs}
    assert not any(figure.name.startswith("margin") for figure in answer.figures)


def test_a_bondline_without_an_adhesive_has_no_limit() -> None:
    answer = damage_answer(without(adhesive=None)(FM31), Damage("bondline", 3.0, thickness=0.1e-3))
    assert answer.word is Word.NO_LIMIT
    assert ("adhesive",) in [gap.needs for gap in answer.missing]


def test_a_hinge_spares_the_root_and_a_hub_without_one_does_not() -> None:
    def bending(change: Change) -> float:
        figures = strength_case(change(FM31)).figures
        return next(one.value for one in figures if one.name == "pull-up: greatest flapwise moment")

    hinged = bending(part("rotor", hub="hinged", hinge_offset=0.1, blades=3))
    assert hinged < bending(part("rotor", hub="rigid"))
