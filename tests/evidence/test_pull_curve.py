"""Pull curves: units, sign, and every hole named."""

import numpy as np
import pytest

from bladewright.errors import SeveralBadInputs
from bladewright.evidence.description import PullDescription, parse_pull_description
from bladewright.evidence.pull_curve import read_pull_curve

TEXT = """
format = 1
name = "peel machine"
missing = ["---"]
[file]
encoding = "utf-8"
delimiter = "semicolon"
decimal_mark = "comma"
[table]
names_row = 1
units_row = 2
first_row = 3
[travel]
column = "way"
unit = "in"
[force]
column = "load"
unit = "lbf"
sign = "reversed"
"""
GOOD = "way;load\nin;lbf\n0;0\n0,5;-10,25\n1,0;-9,75\n"


def _description(old: str = "", new: str = "") -> PullDescription:
    return parse_pull_description(TEXT.replace(old, new).encode(), "peel.toml")


def test_inches_pounds_and_a_reversed_sign() -> None:
    curve = read_pull_curve(GOOD.encode(), _description(), "peel.csv")
    np.testing.assert_allclose(curve.travel, [0.0, 0.0127, 0.0254], rtol=1e-12)
    # 1 lbf = 4.4482216152605 N
    np.testing.assert_allclose(curve.force, [0.0, 45.594271556, 43.370160749], rtol=1e-9)
    assert curve.rows.tolist() == [3, 4, 5]


def test_the_units_row_must_agree() -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        read_pull_curve(GOOD.replace("in;lbf", "mm;lbf").encode(), _description(), "peel.csv")
    (error,) = caught.value.errors
    assert (error.row, error.column, error.value, error.allowed) == (2, "way", "mm", "in")


def test_a_hole_in_the_curve_is_refused() -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        read_pull_curve(GOOD.replace("-10,25", "---").encode(), _description(), "peel.csv")
    (error,) = caught.value.errors
    assert (error.file, error.row, error.column) == ("peel.csv", 4, "load")


def test_an_undeclared_column_and_one_used_twice() -> None:
    with pytest.raises(SeveralBadInputs) as caught:
        read_pull_curve(GOOD.encode(), _description('column = "load"', 'column = "way"'), "peel.csv")
    assert {error.column for error in caught.value.errors} >= {"way", "load"}
