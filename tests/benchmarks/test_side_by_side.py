"""What a benchmark's line says, by made-up times; nothing is timed here."""

import importlib

import pytest

from benchmarks.__main__ import KEYS, main, measured, names
from benchmarks.side_by_side import best_of, line


@pytest.mark.parametrize(
    ("ours", "other", "goal", "ratio", "holds"),
    [
        (3.0, 2.0, "<= 1.5", 1.5, True),
        (3.1, 2.0, "<= 1.5", 1.55, False),
        (1.0, 50.0, ">= 50", 50.0, True),
        (1.0, 49.0, ">= 50", 49.0, False),
        (0.5, 2.0, "<= 1.5", 0.25, True),
    ],
)
def test_the_goal_says_which_way_the_ratio_goes(
    ours: float, other: float, goal: str, ratio: float, holds: bool
) -> None:
    said = line("x", ours, other, goal)
    assert said["ratio"] == pytest.approx(ratio)
    assert said["holds"] is holds
    assert tuple(said) == KEYS


def test_both_sides_are_called_in_turn() -> None:
    calls: list[str] = []
    best_of(3, lambda: calls.append("ours"), lambda: calls.append("other"))
    assert calls == ["ours", "other"] * 3


@pytest.mark.parametrize("name", names())
def test_every_benchmark_can_be_run(name: str) -> None:
    assert callable(importlib.import_module(f"benchmarks.{name}").run)


def test_a_benchmark_that_breaks_is_a_goal_not_held(capsys: pytest.CaptureFixture[str]) -> None:
    (said,) = measured("there_is_no_such_file")
    assert said["holds"] is False
    assert said["ratio"] is None
    assert "there_is_no_such_file" in capsys.readouterr().err


def test_an_unknown_name_is_refused_before_anything_runs(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["nonsense"]) == 2
    assert "start_up" in capsys.readouterr().err
