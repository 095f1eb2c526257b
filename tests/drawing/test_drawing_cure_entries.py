"""The shop's entries of cure and oven: what they become, what follows an absent source, and what is refused."""

import contextlib
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.drawing.cure_entries import CureEntries, parse_cure_entries
from bladewright.engine.cure.control import Schedule
from bladewright.engine.cure.conversion import conversion
from bladewright.engine.cure.simulate import simulate
from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.selfcheck.lee_loos_springer import TWO_BRANCHES

FENNMARK = Path(__file__).parent / "cure_entries.toml"
PUBLISHED = """
format = 1
[kinetics.x]
adhesive = "x"
branches = [
  { upto = "30 %", order = 1, ceiling = 0.47, ceiling_order = 1, terms = [
      { prefactor = "2.101e9 1/min", energy = "80.7 kJ/mol" },
      { prefactor = "-2.014e9 1/min", energy = "77.8 kJ/mol", power = 1 } ] },
  { order = 1, terms = [{ prefactor = "1.960e5 1/min", energy = "56.6 kJ/mol" }] },
]
"""


@pytest.fixture(scope="module")
def entries() -> CureEntries:
    return parse_cure_entries(FENNMARK.read_bytes(), FENNMARK.name)


def changed(old: str, new: str) -> list[tuple[str | None, str | None]]:
    """Field and allowed of everything refused after one change to the example."""
    text = FENNMARK.read_text(encoding="utf-8")
    assert old in text
    with pytest.raises(SeveralBadInputs) as wrong:
        parse_cure_entries(text.replace(old, new, 1).encode(), "cure.toml")
    assert all(error.file == "cure.toml" for error in wrong.value.errors)
    return [(error.field, error.allowed) for error in wrong.value.errors]


def test_published_constants_per_minute_become_the_form_per_second() -> None:
    (entered,) = parse_cure_entries(PUBLISHED.encode(), "x.toml").kinetics.values()
    ours, theirs = entered.kinetics, TWO_BRANCHES
    assert ours.joints == theirs.joints
    for one, other in zip(ours.branches, theirs.branches, strict=True):
        for term, known in zip(one.terms, other.terms, strict=True):
            assert term.prefactor == pytest.approx(known.prefactor, rel=1e-14)
            assert (term.energy, term.power) == (known.energy, known.power)
    assert not entered.validated
    assert not entered.inside(300.0, 390.0)  # nobody entered where it was measured


def test_the_example_cures_in_its_own_oven(entries: CureEntries) -> None:
    oven, film = entries.ovens["fennmark-mould"], entries.kinetics["fa-120"]
    assert oven.validated
    assert film.validated
    cycle = Schedule(60.0 * np.array([0.0, 45.0, 135.0, 180.0]), np.array([294.0, 394.0, 394.0, 330.0]), 294.0)
    runs = simulate(oven.oven, cycle, oven.control)
    cured = conversion(film.kinetics, runs.seconds, runs.bondline, film.delivered)[0, :, -1]
    assert film.gel is not None
    assert (cured > film.gel).all()
    assert (cured < 1.0).all()
    assert film.inside(294.0, float(runs.bondline.max()))
    assert not film.inside(280.0, 390.0)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('prefactor = "4.0e7 1/s"', "prefactor = 4.0e7", "kinetics.fa-120.branches.1.terms.1.prefactor"),
        ('energy = "90 kJ/mol"', 'energy = "90 kJ"', "kinetics.fa-120.branches.1.terms.1.energy"),
        ('gel = "55 %"', 'gel = "100 %"', "kinetics.fa-120.gel"),
        ('delivered = "1 %"', 'delivered = "-1 %"', "kinetics.fa-120.delivered"),
        ('lot_scatter = "8 %"', 'lot_scatter = "8 K"', "kinetics.fa-120.lot_scatter"),
        ("power = 0.6", "power = -0.6", "kinetics.fa-120.branches.1.terms.2.power"),
        ("order = 1.3", 'order = 1.3\nupto = "40 %"', "kinetics.fa-120"),
        ('cured = "115 degC"', 'cured = "-15 degC"', "kinetics.fa-120.glass_transition"),
        ('second_dwell_source = "invented maker\'s sheet FA-120, issue 3"\n', "", "kinetics.fa-120"),
        ('mould_loss = ["3.2 W/K", ', "mould_loss = [", "ovens.fennmark-mould"),
        ('along = "6 W/K"', 'along = "6 W"', "ovens.fennmark-mould.along.1"),
        ('stations = ["0.9 m", "2.0 m"', 'stations = ["2.9 m", "2.0 m"', "ovens.fennmark-mould"),
        ('greatest_power = "900 W"', 'greatest_power = ["900 W", "800 W"]', "ovens.fennmark-mould"),
        ('assumed_reset = "15 min"', 'assumed_reset = "0 min"', "ovens.fennmark-mould.assumed_reset"),
        ('name = "FM-31 mould"', 'name = "FM-31 mould"\nbrand = "x"', "ovens.fennmark-mould.brand"),
    ],
)
def test_what_cannot_be_is_refused_by_its_field(old: str, new: str, field: str) -> None:
    assert [name for name, _ in changed(old, new)] == [field]


def test_a_form_that_begins_with_nothing_asks_what_was_delivered() -> None:
    text = FENNMARK.read_text(encoding="utf-8")
    start = text.index('    { prefactor = "4.0e7')
    stuck = text[:start] + text[text.index('    { prefactor = "3.0e7') :]
    with pytest.raises(SeveralBadInputs) as wrong:
        parse_cure_entries(stuck.replace("power = 0.6", "power = 1.0").replace('delivered = "1 %"\n', "").encode(), "x")
    (error,) = wrong.value.errors
    assert (error.field, error.allowed) == ("kinetics.fa-120", "delivered above 0")


@settings(max_examples=150, deadline=None)
@given(at=st.integers(0, 1400), torn=st.binary(max_size=4), gone=st.integers(0, 30))
def test_torn_bytes_are_refused_or_read_and_never_break(at: int, torn: bytes, gone: int) -> None:
    data = FENNMARK.read_bytes()
    with contextlib.suppress(BadInput):
        read = parse_cure_entries(data[:at] + torn + data[at + gone :], "cure.toml")
        assert read.format == 1


@settings(max_examples=60, deadline=None)
@given(
    number=st.floats(allow_nan=True, allow_infinity=True),
    name=st.sampled_from(["order = 1.3", "power = 0.6", "ratio = 0.42", 'gel = "55 %"', 'delivered = "1 %"']),
)
def test_any_number_is_refused_or_makes_a_form(number: float, name: str) -> None:
    text = FENNMARK.read_text(encoding="utf-8")
    field = name.partition(" ")[0]
    with contextlib.suppress(BadInput):
        read = parse_cure_entries(text.replace(name, f"{field} = {number!r}").encode(), "cure.toml")
        film = read.kinetics["fa-120"]
        cured = conversion(film.kinetics, np.array([0.0, 60.0]), np.full(2, 394.0), film.delivered)
        assert 0.0 <= cured[-1] <= 1.0
