"""A logger description is refused whole when anything in it is unknown, missing or contradicts itself."""

from pathlib import Path

import pytest

from bladewright.errors import BadInput, SeveralBadInputs
from bladewright.evidence.description import (
    parse_logger_description,
    parse_pull_description,
    read_logger_description,
    read_pull_description,
)

HERE = Path(__file__).parent
PLAIN = (HERE / "descriptions" / "button_logger_us_dates.toml").read_text(encoding="utf-8")
PULL = (HERE / "descriptions" / "tensile_french_header.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("path", sorted((HERE / "descriptions").glob("*.toml")), ids=lambda path: path.stem)
def test_every_description_here_is_whole(path: Path) -> None:
    read = read_pull_description if "[force]" in path.read_text(encoding="utf-8") else read_logger_description
    assert read(path).name == path.stem


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ("format = 1", "format = 2", "format"),
        ("format = 1", "format = 1\nspeed = 3", "speed"),
        ('encoding = "latin-1"', 'encoding = "ebcdic"', "file.encoding"),
        ('encoding = "latin-1"\n', "", "file.encoding"),
        ('decimal_mark = "point"', 'decimal_mark = "comma"', "file"),
        ("names_row = 15", "names_row = 16", "table"),
        ("names_row = 15", "names_row = 0", "table.names_row"),
        ('zone = "America/Detroit"', 'zone = "Detroit"', "time.zone"),
        ('zone = "America/Detroit"', 'zone = "EST5EDT4"', "time.zone"),
        ('zone = "America/Detroit"', 'zone = "../../etc/passwd"', "time.zone"),
        ('zone = "America/Detroit"\n', "", "time.zone"),
        ('zone = "America/Detroit"', 'zone = "offset in file"', "time"),
        ('zone = "America/Detroit"', 'zone = "elapsed"', "time"),
        ('"%m/%d/%Y %H:%M"', '"%m/%d/%y %H:%M"', "time"),
        ("file_order_is_time_order = true\n", "", "time.file_order_is_time_order"),
        ('["Date/Time"]', '["a", "b", "c"]', "time.columns"),
        ('role = "air"', 'role = "oven"', "columns.1.role"),
        ('role = "air"', 'role = "other"', "columns.1"),
        ('role = "air"', 'role = "air"\nkind = "pressure"', "columns.1"),
        ('role = "air"', 'role = "air"\nside = "left"', "columns.1.side"),
        ('unit = "degC"', 'unit = "psi"', "columns.1"),
        ('unit = "degC"\n', "", "columns.1.unit"),
    ],
)
def test_what_is_refused_and_where(old: str, new: str, field: str) -> None:
    assert old in PLAIN
    with pytest.raises(SeveralBadInputs) as caught:
        parse_logger_description(PLAIN.replace(old, new).encode(), "logger.toml")
    assert field in {error.field for error in caught.value.errors}
    assert {error.file for error in caught.value.errors} == {"logger.toml"}


@pytest.mark.parametrize(
    ("old", "new", "field"),
    [
        ('unit = "N"', 'unit = "mm"', None),
        ('unit = "mm"', 'unit = "N"', None),
        ("[force]", "[load]", "force"),
        ("[force]", '[force]\nsign = "up"', "force.sign"),
    ],
)
def test_pull_descriptions_too(old: str, new: str, field: str | None) -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        parse_pull_description(PULL.replace(old, new).encode(), "pull.toml")
    assert field is None or field in {error.field for error in caught.value.errors}


def test_a_byte_order_mark_is_no_harm_and_a_broken_file_is_named() -> None:
    assert parse_logger_description(PLAIN.encode("utf-8-sig"), "logger.toml").name
    for broken in (b"format = ", b"\xff\xfe\x00"):
        with pytest.raises(BadInput) as caught:
            parse_logger_description(broken, "logger.toml")
        assert caught.value.file == "logger.toml"
