"""Void maps and typed signed records: every wrong entry by its field, and what was typed comes back as it was typed."""

import datetime

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.errors import SeveralBadInputs
from bladewright.evidence.signed_record import read_signed_record, signed_record_bytes
from bladewright.evidence.void_map import VoidMapEntries, read_void_map, void_map_bytes
from bladewright.typed import hidden_letter

MAP = """
format = 1
serial = "0007"
found_by = "R. Vane"
found_on = 2026-03-05
method = "tapped, both faces, on a grid of 1 in"
uncertainty = "2 mm"
[[looked_at]]
bondline = "spar to top skin"
inner = "0.25 m"
outer = "3.55 m"
[[voids]]
bondline = "spar to top skin"
station = "2.66 m"
chordwise = "20 %"
along = "0.5 in"
across = "6 mm"
"""
VISIBLE = st.text(min_size=1, max_size=40).map(str.strip).filter(lambda text: bool(text) and not hidden_letter(text))
MILLIMETRES = st.integers(1, 3000)


def test_sizes_and_places_are_read_with_their_units() -> None:
    read = read_void_map(MAP.encode(), "map.toml")
    (void,), (stretch,) = read.voids, read.looked_at
    assert (void.number, void.bondline, void.chordwise) == (1, "spar to top skin", 0.2)
    assert (void.station, void.along, void.across) == pytest.approx((2.66, 0.0127, 0.006))
    assert (stretch.inner, stretch.outer, read.uncertainty) == pytest.approx((0.25, 3.55, 0.002))
    assert read.found_on == datetime.date(2026, 3, 5)


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('along = "0.5 in"', 'along = "0.5"', "voids.1.along"),
        ('along = "0.5 in"', 'along = "0 mm"', "voids.1.along"),
        ('along = "0.5 in"\n', "", "voids.1.along"),
        ('chordwise = "20 %"', 'chordwise = "120 %"', "voids.1.chordwise"),
        ('station = "2.66 m"', 'station = "2,66 m"', "voids.1.station"),
        ('outer = "3.55 m"', 'outer = "0.2 m"', "looked_at.1"),
        ('uncertainty = "2 mm"', 'uncertainty = "0 mm"', "uncertainty"),
        ('method = "tapped, both faces, on a grid of 1 in"', 'method = " "', "method"),
        ("found_on = 2026-03-05", 'found_on = "05/03/2026"', "found_on"),
        ('found_by = "R. Vane"', 'found_by = "R. Vane"\ndepth = "1 mm"', "depth"),
    ],
)
def test_a_wrong_entry_is_named(old: str, new: str, field: str) -> None:
    assert old in MAP
    with pytest.raises(SeveralBadInputs) as caught:
        read_void_map(MAP.replace(old, new).encode(), "map.toml")
    assert [error.field for error in caught.value.errors] == [field]
    assert caught.value.errors[0].file == "map.toml"


def test_a_map_that_does_not_say_what_it_found_is_no_map() -> None:
    """A void nobody entered must not read as a void nobody found."""
    without, _, _ = MAP.partition("[[voids]]")
    with pytest.raises(SeveralBadInputs) as caught:
        read_void_map(without.encode(), "map.toml")
    assert [error.field for error in caught.value.errors] == ["voids"]
    assert read_void_map(f"voids = []\n{without}".encode(), "map.toml").voids == ()


def test_a_map_that_looked_nowhere_is_no_map() -> None:
    head, _, _ = MAP.partition("[[looked_at]]")
    with pytest.raises(SeveralBadInputs) as caught:
        read_void_map(f"looked_at = []\nvoids = []\n{head}".encode(), "map.toml")
    assert [error.field for error in caught.value.errors] == ["looked_at"]


@settings(max_examples=60, deadline=None)
@given(
    serial=VISIBLE,
    method=VISIBLE,
    bondline=VISIBLE,
    rows=st.lists(st.tuples(MILLIMETRES, MILLIMETRES, MILLIMETRES, st.none() | st.integers(0, 100)), max_size=4),
)
def test_what_was_typed_comes_back(
    serial: str, method: str, bondline: str, rows: list[tuple[int, int, int, int | None]]
) -> None:
    voids = [
        {
            "bondline": bondline,
            "station": f"{station} mm",
            "along": f"{along} mm",
            "across": f"{across} mm",
            "chordwise": "" if chord is None else f"{chord} %",
        }
        for station, along, across, chord in rows
    ]
    stretch = {"bondline": bondline, "inner": "0 mm", "outer": "3 m"}
    typed = VoidMapEntries(serial, "R. Vane", "2026-03-05", method, "", [stretch], voids)
    read = read_void_map(void_map_bytes(typed), "map.toml")
    assert (read.serial, read.method, read.uncertainty) == (serial, method, None)
    for void, (station, along, across, chord) in zip(read.voids, rows, strict=True):
        assert (void.station, void.along, void.across) == pytest.approx((station / 1e3, along / 1e3, across / 1e3))
        assert void.chordwise == (None if chord is None else pytest.approx(chord / 100))
        assert void.bondline == bondline


@settings(max_examples=60, deadline=None)
@given(
    serial=VISIBLE,
    proof=VISIBLE,
    statement=VISIBLE,
    signed_by=VISIBLE,
    result=st.sampled_from(["conforms", "does not conform"]),
    signed_on=st.dates(),
    details=st.dictionaries(VISIBLE, VISIBLE, max_size=3),
)
def test_a_signed_record_comes_back_as_it_was_signed(
    serial: str,
    proof: str,
    statement: str,
    signed_by: str,
    result: str,
    signed_on: datetime.date,
    details: dict[str, str],
) -> None:
    data = signed_record_bytes(
        serial=serial,
        proof=proof,
        result=result,
        statement=statement,
        signed_by=signed_by,
        signed_on=signed_on,
        details=details,
    )
    read = read_signed_record(data, "signed.toml")
    assert (read.serial, read.proof, read.result, read.statement) == (serial, proof, result, statement)
    assert (read.signed_by, read.signed_on, dict(read.details)) == (signed_by, signed_on, details)
