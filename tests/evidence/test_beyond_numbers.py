"""Numbers that fit their cell and leave the range of numbers in SI, and a first row that no file can reach."""

from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.errors import BadInput, BladewrightError, SeveralBadInputs
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription, parse_pull_description
from bladewright.evidence.pull_curve import read_pull_curve
from bladewright.evidence.weighing import read_weighing
from tests.evidence.conftest import Describe

PULL = Path(__file__).parents[2] / "examples" / "fennmark" / "pull.toml"
HUGE = "1.7e308"  # a number; times the 6895 Pa of a psi it is none any more


def test_a_reading_too_large_in_si_is_named(
    describe: Describe, refused: Callable[[bytes, LoggerDescription], tuple[BladewrightError, ...]]
) -> None:
    columns = [{"column": "Z1", "role": "mould", "unit": "degC"}, {"column": "Z2", "role": "pressure", "unit": "psi"}]
    log = f"time,Z1,Z2\n2026-03-02 08:00,20,40\n2026-03-02 08:01,20,{HUGE}\n"
    (error,) = refused(log.encode(), describe(columns=columns))
    assert (error.row, error.column) == (3, "Z2")


@pytest.mark.parametrize("row", [4, 10**45])
def test_a_first_row_beyond_the_file_is_said_and_not_counted_to(describe: Describe, row: int) -> None:
    with pytest.raises(BadInput) as caught:
        read_cure_log(b"time,Z1,Z2\n2026-03-02 08:00,20,20\n", describe(**{"table.first_row": row}), "cure.csv")
    assert (caught.value.file, caught.value.row) == ("cure.csv", row)


def test_a_pull_too_large_in_si_is_named() -> None:
    text = PULL.read_text(encoding="utf-8")
    how = parse_pull_description(text.replace('unit = "N"', 'unit = "kN"').encode(), "pull.toml")
    head = [""] * (how.table.first_row - 1)
    names = [str(how.travel.column), str(how.force.column)]
    head[(how.table.names_row or 1) - 1] = ",".join(names)
    if how.table.units_row:
        head[how.table.units_row - 1] = f"{how.travel.unit},{how.force.unit}"
    curve = "\n".join([*head, "1,10", f"2,{HUGE}", ""])
    with pytest.raises(SeveralBadInputs) as caught:
        read_pull_curve(curve.encode(), how, "pull.csv")
    (error,) = caught.value.errors
    assert (error.row, error.column) == (how.table.first_row + 1, names[1])


def test_a_weighing_of_numbers_beyond_all_measure_gives_no_difference() -> None:
    readings = ", ".join(f'{{ {what} = "{value} kg m" }}' for what, value in [("master", "17.05"), ("blade", HUGE)] * 3)
    text = (
        'format = 1\nserial = "B-1"\nrig = "W-1"\nmaster = "M-1"\nweighed_by = "Ida"\nweighed_on = 2026-03-02\n'
        f'[span_moment]\nrig_uncertainty = "4 g m"\nreadings = [{readings}]\n'
    )
    with pytest.raises(SeveralBadInputs) as caught:
        read_weighing(text.encode(), "w.toml")
    assert [error.field for error in caught.value.errors] == [f"span_moment.readings.{n}" for n in (2, 4, 6)]
