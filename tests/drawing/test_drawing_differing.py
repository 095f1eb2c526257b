"""What changed between two drawing files, field by field, in the words of each."""

from pathlib import Path

from bladewright.drawing.differing import differing, written_entries
from bladewright.drawing.editing import with_values

FILE = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


def test_a_file_does_not_differ_from_itself_whatever_its_comments() -> None:
    data = FILE.read_bytes()
    assert differing(data, data + b"\n# seen at the bench\n") == ()


def test_each_changed_entry_is_told_as_both_write_it() -> None:
    before = FILE.read_bytes()
    after = with_values(before, {"reflex.angle": "2.3 deg", "planform.stations.2.chord": "0.19 m"})
    found = {one.field: (one.words, one.before, one.after, one.worth_the_same) for one in differing(before, after)}
    assert found == {
        "reflex.angle": ("reflex of the finished blade", "2.0 deg", "2.3 deg", False),
        "planform.stations.2.chord": ("chord at station 2", "0.200 m", "0.19 m", False),
    }


def test_one_size_written_in_another_unit_is_said_to_be_the_same() -> None:
    before = FILE.read_bytes()
    (one,) = differing(before, with_values(before, {"skin.top_thickness": "0.635 mm"}))  # 0.025 in of 25.4 mm
    assert one.worth_the_same
    (other,) = differing(before, with_values(before, {"skin.top_thickness": "0.64 mm"}))
    assert not other.worth_the_same


def test_what_only_one_has_is_told_too() -> None:
    before = FILE.read_bytes()
    after = before.replace(b'[finish]\narea_density = "110 g/m^2"\n', b"")
    assert after != before
    (gone,) = differing(before, after)
    assert (gone.field, gone.before, gone.after) == ("finish.area_density", "110 g/m^2", "")
    (come,) = differing(after, before)
    assert (come.before, come.after) == ("", "110 g/m^2")


def test_every_entry_is_told_as_it_is_written() -> None:
    told = written_entries(FILE.read_bytes())
    assert told["skin.top_thickness"] == "0.025 in"
    assert told["doubler.bolts.3.chordwise"] == "-9 mm"
    assert told["reflex.other_skin_follows"] == "false"
    assert told["oven.stations"] == "0.8 m, 1.9 m, 3.0 m"
