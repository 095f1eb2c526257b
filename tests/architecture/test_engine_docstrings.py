"""Every public function of the engine says what it takes in which unit, what it gives, what it refuses, whose it is."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
ENGINE = ROOT / "src/bladewright/engine"
UNIT = re.compile(r"\[[^\]]+\]")
SECTION = re.compile(r"^(\w+)\n-+$", re.MULTILINE)
NUMBERS = re.compile(r"\b(float|Floats)\b")
PUBLIC = [
    pytest.param(node, id=f"{path.relative_to(ENGINE).as_posix()}: {node.name}")
    for path in sorted(ENGINE.rglob("*.py"))
    for node in ast.parse(path.read_bytes()).body
    if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")
]
RECORDS = [
    pytest.param(path, node, id=f"{path.relative_to(ENGINE).as_posix()}: {node.name}")
    for path in sorted(ENGINE.rglob("*.py"))
    for node in ast.parse(path.read_bytes()).body
    if isinstance(node, ast.ClassDef) and any("dataclass" in ast.unparse(by) for by in node.decorator_list)
]


def sections(function: ast.FunctionDef) -> dict[str, str]:
    """The docstring's parts by heading; what comes before the first is under the empty one."""
    parts = SECTION.split(ast.get_docstring(function) or "")
    return {"": parts[0]} | dict(zip(parts[1::2], parts[2::2], strict=True))


def parameters(function: ast.FunctionDef) -> list[str]:
    taken = function.args
    assert taken.vararg is None
    assert taken.kwarg is None, "name what you take"
    return [argument.arg for argument in (*taken.posonlyargs, *taken.args, *taken.kwonlyargs)]


def described(section: str) -> Iterator[tuple[list[str], str]]:
    """The names of each entry and what is said of them."""
    for entry in re.split(r"\n(?=\S)", section.strip("\n")):
        head, _, said = entry.partition("\n")
        names, _, _ = head.partition(" : ")
        yield [name.strip() for name in names.split(",")], said


@pytest.mark.parametrize("function", PUBLIC)
def test_the_parameters_told_are_those_taken_each_with_its_unit(function: ast.FunctionDef) -> None:
    told = list(described(sections(function).get("Parameters", "")))
    names = [name for group, _ in told for name in group if name]
    assert names == parameters(function)
    for group, said in told:
        assert UNIT.search(said) or not names, f"{', '.join(group)}: its unit in brackets, '[-]' if it has none"


@pytest.mark.parametrize("function", PUBLIC)
def test_what_comes_back_is_told(function: ast.FunctionDef) -> None:
    assert function.returns is not None
    gives = ast.unparse(function.returns)
    told = sections(function)
    assert ("Returns" in told or "Yields" in told) == (gives != "None")
    if re.fullmatch(r"float|Floats", gives):
        assert UNIT.search(told["Returns"]), "a bare number comes back with its unit in brackets"


@pytest.mark.parametrize("function", PUBLIC)
def test_what_is_refused_is_told(function: ast.FunctionDef) -> None:
    told = sections(function).get("Raises", "")
    for node in ast.walk(function):
        if isinstance(node, ast.Raise) and isinstance(node.exc, ast.Call):
            assert re.search(rf"^(\w+, )*{ast.unparse(node.exc.func)}(, \w+)*$", told, re.MULTILINE)


@pytest.mark.parametrize("function", PUBLIC)
def test_a_function_says_how_it_is_known(function: ast.FunctionDef) -> None:
    if function.name.startswith("require_"):
        return
    assert re.search(r"^Source: \S", sections(function).get("Notes", ""), re.MULTILINE)


@pytest.mark.parametrize(("path", "record"), RECORDS)
def test_a_record_says_the_unit_of_every_number(path: Path, record: ast.ClassDef) -> None:
    lines = path.read_text(encoding="utf-8").splitlines()
    assert ast.get_docstring(record)
    for field in record.body:
        if isinstance(field, ast.AnnAssign) and NUMBERS.search(ast.unparse(field.annotation)):
            beside = lines[field.lineno - 1 : field.end_lineno]
            assert any(UNIT.search(line.partition("#")[2]) for line in beside), (
                f"{ast.unparse(field)}: unit in brackets"
            )
