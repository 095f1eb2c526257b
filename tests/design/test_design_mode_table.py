"""The table of modes tells what the fans hold, under each pattern's words, and names modes by what they mostly are."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.frequencies import Frequencies, frequencies
from bladewright.design.mode_table import HEADINGS, mode_tables
from bladewright.drawing.file import BladeDrawing, read_drawing

HERTZ = 1.0 / (2.0 * np.pi)


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml")


@pytest.fixture(scope="module")
def found(drawing: BladeDrawing) -> Frequencies:
    return frequencies(drawing)


def test_a_row_for_each_mode_of_each_pattern(drawing: BladeDrawing, found: Frequencies) -> None:
    assert drawing.rotor is not None
    tables = mode_tables(found, drawing.rotor)
    assert list(tables) == ["all blades alike", "blades in turn"]
    for rows in tables.values():
        assert len(rows) == 7
        assert {len(row) for row in rows} == {len(HEADINGS)}


@pytest.mark.outside
def test_a_teetering_pair_tilts_once_per_rev_with_either_control_run(drawing: BladeDrawing, found: Frequencies) -> None:
    # a stiff blade hinged at the axis swings once per rev whatever its mass: any text on rotors
    assert drawing.rotor is not None
    (row,) = (row for row in mode_tables(found, drawing.rotor)["blades in turn"] if row[0] == "first flap")
    assert row[1:4] == ("8.33", "8.33", "1.00")


def test_each_row_tells_the_nearest_of_its_mode(drawing: BladeDrawing, found: Frequencies) -> None:
    assert drawing.rotor is not None
    least = min(found.nearest, key=lambda one: one.gap)
    (row,) = (row for row in mode_tables(found, drawing.rotor)["blades in turn"] if row[0] == least.mode)
    assert row[4:6] == (f"{least.harmonic}/rev", f"{100.0 * least.gap:.1f} %")


def test_the_lower_of_two_that_trade_shapes_is_flap_at_every_collective(found: Frequencies) -> None:
    # with a soft control run second flap and first torsion come close above the range and trade shapes there
    for fan in found.fans:
        at = fan.at(500.0 * np.pi / 30.0) * HERTZ
        flap, torsion = (at[fan.names.index(name)] for name in ("second flap", "first torsion"))
        if fan.pattern == "cyclic":
            assert flap < torsion


def test_nothing_found_is_no_table(drawing: BladeDrawing) -> None:
    assert drawing.rotor is not None
    assert mode_tables(frequencies(drawing.model_copy(update={"rotor": None})), drawing.rotor) == {}
