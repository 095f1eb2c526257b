"""FM-31, its plan worked out once, and any change of it."""

from collections.abc import Callable
from pathlib import Path

import pytest

from bladewright.drawing.editing import with_values
from bladewright.drawing.file import BladeDrawing, parse_drawing, read_drawing
from bladewright.making.cure_plan import CurePlan, plan_cure

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"


@pytest.fixture(scope="session")
def fm31() -> BladeDrawing:
    return read_drawing(FM31)


@pytest.fixture(scope="session")
def plan(fm31: BladeDrawing) -> CurePlan:
    return plan_cure(fm31)


@pytest.fixture(scope="session")
def changed() -> Callable[[dict[str, str]], BladeDrawing]:
    return lambda changes: parse_drawing(with_values(FM31.read_bytes(), changes), FM31.name)


@pytest.fixture(scope="session")
def without() -> Callable[[str], BladeDrawing]:
    """FM-31 without the first line that begins with some text."""

    def cut(line: str) -> BladeDrawing:
        lines = FM31.read_text(encoding="utf-8").splitlines()
        lines.pop(next(number for number, text in enumerate(lines) if text.startswith(line)))
        return parse_drawing("\n".join(lines).encode(), FM31.name)

    return cut
