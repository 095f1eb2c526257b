"""A worse blade never looks better: properties of the drawn blade's answers. No source needed."""

from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.design.damage import damage_answer
from bladewright.design.damage_place import Damage
from bladewright.design.life import life
from bladewright.design.strength_case import strength_case
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.figures import WORST_FIRST

FM31 = read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")


def with_table(name: str, **changes: float) -> BladeDrawing:
    return FM31.model_copy(update={name: getattr(FM31, name).model_copy(update=changes)})


def least(drawing: BladeDrawing, words: str = "") -> float:
    return min(margin.value for margin in strength_case(drawing).margins if words in margin.check)


def hours(drawing: BladeDrawing) -> float:
    return min(one.found.hours for one in life(drawing).details)


@settings(max_examples=5, deadline=None)
@given(st.floats(1.0, 1.7))
def test_a_higher_load_factor_never_leaves_a_greater_margin(factor: float) -> None:
    assert (
        least(with_table("loads", limit_load_factor=1.05 * factor))
        <= least(with_table("loads", limit_load_factor=factor)) + 1e-9
    )


@settings(max_examples=5, deadline=None)
@given(st.floats(0.5, 0.95))
def test_a_thinner_skin_is_stressed_more(share: float) -> None:
    thin = share * FM31.skin.top_thickness
    assert least(with_table("skin", top_thickness=thin, bottom_thickness=thin), "skin, ") < least(FM31, "skin, ")


@settings(max_examples=4, deadline=None)
@given(st.floats(1.0, 1.5))
def test_flapping_further_or_starting_more_often_lasts_no_longer(more: float) -> None:
    profile = FM31.flight_profile
    assert profile is not None
    harder = tuple(
        one.model_copy(
            update={"flap_amplitude": more * one.flap_amplitude, "lift_amplitude": more * one.lift_amplitude}
        )
        for one in profile.manoeuvres
    )
    assert hours(with_table("flight_profile", manoeuvres=harder)) <= hours(FM31) * (1.0 + 1e-9)  # type: ignore[arg-type]
    often = more * profile.starts_per_hour
    assert hours(with_table("flight_profile", starts_per_hour=often)) <= hours(FM31) * (1.0 + 1e-9)


@settings(max_examples=10, deadline=None)
@given(
    st.floats(0.0, 0.6e-3), st.floats(0.0, 0.3e-3), st.sampled_from((None, 0.0, 0.2, 0.5, 0.95)), st.floats(0.6, 3.4)
)
def test_a_deeper_nick_never_has_a_better_word(depth: float, more: float, place: float | None, station: float) -> None:
    shallow, deep = (
        damage_answer(FM31, Damage("nick", station, place, depth=one)).outcome for one in (depth, depth + more)
    )
    assert WORST_FIRST.index(deep) <= WORST_FIRST.index(shallow)
