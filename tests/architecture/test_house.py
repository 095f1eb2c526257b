"""The house as it is drawn, as the import linter holds it, and as it is built."""

import ast
import builtins
import re
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from importlinter.cli import EXIT_STATUS_SUCCESS, lint_imports

SMELL, TOO_LONG = 400, 800  # lines
LONG_FOR_A_REASON: dict[str, str] = {}  # path from src/bladewright: why it is one file and not two
HEAVY = ("numpy", "scipy", "pint", "pydantic", "polars", "django", "shapely", "matplotlib", "typst")
EMPTY_NAMES = {"utils", "util", "helpers", "helper", "common", "manager", "managers", "base", "misc"}
OUTSIDE_THE_ENGINE = {
    *("os", "io", "pathlib", "shutil", "tempfile", "json", "tomllib", "csv", "sqlite3", "subprocess", "logging"),
    *("time", "datetime", "zoneinfo", "random", "secrets", "uuid"),
    *("pint", "pydantic", "polars", "django", "typer", "rich", "tomlkit", "matplotlib", "typst"),
}


def sources(root: Path) -> Iterator[tuple[str, Path]]:
    """Every file of ours that a person wrote, by its path in the package."""
    package = root / "src/bladewright"
    for path in sorted(package.rglob("*.py")):
        if "migrations" not in path.parts:
            yield path.relative_to(package).as_posix(), path


def modules_imported(tree: ast.Module) -> Iterator[str]:
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and node.module:
            yield node.module
            yield from (f"{node.module}.{name.name}" for name in node.names)


def layers(root: Path) -> list[str]:
    """The order the import linter is told, top to bottom."""
    declared = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    (contract,) = declared["tool"]["importlinter"]["contracts"]
    assert contract["exhaustive"], "a room outside the order would be unwatched"
    order: list[str] = contract["layers"]
    return order


def test_the_house_is_drawn_as_the_linter_holds_it(root: Path) -> None:
    page = (root / "ARCHITECTURE.md").read_text(encoding="utf-8")
    drawn = re.search(r"```house\n(.*?)```", page, re.DOTALL)
    assert drawn, "ARCHITECTURE.md draws the house in a block marked ```house"
    floors = [line.split("  ")[0].strip() for line in drawn[1].splitlines() if line.strip()]
    assert floors == layers(root)


def test_rooms_that_stand_are_not_in_parentheses(root: Path) -> None:
    rooms = [room.strip() for floor in layers(root) for room in floor.split("|")]
    package = root / "src/bladewright"
    for room in rooms:
        name = room.strip("()")
        stands = (package / name / "__init__.py").exists() or (package / f"{name}.py").exists()
        assert stands == (not room.startswith("(")), f"{name}: parentheses in pyproject mean 'not yet built'"


def test_imports_go_down_only(root: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.syspath_prepend(str(root / "src"))
    assert lint_imports(config_filename=str(root / "pyproject.toml"), no_cache=True) == EXIT_STATUS_SUCCESS


def test_no_file_is_a_cellar(root: Path) -> None:
    long = {name: path.read_text(encoding="utf-8").count("\n") for name, path in sources(root)}
    long = {name: lines for name, lines in long.items() if lines > SMELL}
    assert not {name: lines for name, lines in long.items() if lines > TOO_LONG}
    assert set(long) == set(LONG_FOR_A_REASON), f"more than {SMELL} lines wants two files, or a reason in this test"


def test_no_file_is_named_for_nothing(root: Path) -> None:
    for name, _ in sources(root):
        assert not EMPTY_NAMES & set(name.removesuffix(".py").split("/")), name


def test_every_file_says_what_it_is(root: Path) -> None:
    silent = [name for name, path in sources(root) if not ast.get_docstring(ast.parse(path.read_bytes()))]
    assert silent == []


def test_the_engine_touches_nothing_but_numbers(root: Path) -> None:
    for name, path in sources(root):
        if not name.startswith("engine/"):
            continue
        tree = ast.parse(path.read_bytes())
        reached = {module.split(".")[0] for module in modules_imported(tree)} & OUTSIDE_THE_ENGINE
        assert not reached, f"{name} imports {reached}: the engine has no files, units library or clock"
        for node in ast.walk(tree):
            if isinstance(node, ast.Call):
                called = ast.unparse(node.func)
                assert called not in ("open", "print", "input"), f"{name}:{node.lineno}: {called}"
                assert not re.match(r"(np|numpy)\.random\.", called), f"{name}:{node.lineno}: pass a generator in"


def test_nobody_imports_the_settings(root: Path) -> None:
    for name, path in sources(root):
        assert "bladewright.settings" not in set(modules_imported(ast.parse(path.read_bytes()))), name


def test_help_imports_nothing_heavy(root: Path) -> None:
    asked = f"""
import sys
sys.path.insert(0, {str(root / "src")!r})
sys.argv = ["bladewright", "--help"]
from bladewright.cli import main
try:
    main()
finally:
    print("heavy:", *sorted(set(sys.modules) & set({HEAVY!r})))
"""
    shown = subprocess.run([sys.executable, "-c", asked], capture_output=True, text=True, check=True, timeout=60)
    assert "bladewright" in shown.stdout
    assert shown.stdout.splitlines()[-1] == "heavy:"


def test_commands_and_pages_reckon_nothing(root: Path) -> None:
    reckoning = (ast.Mult, ast.Div, ast.FloorDiv, ast.Mod, ast.Pow, ast.MatMult)
    for name, path in sources(root):
        if name.startswith(("cli/", "web/")):
            for node in ast.walk(ast.parse(path.read_bytes())):
                sum_of = isinstance(node, ast.BinOp) and isinstance(node.op, reckoning)
                assert not sum_of, f"{name}:{getattr(node, 'lineno', 0)}: arithmetic belongs in a room below"


def test_what_is_raised_on_purpose_has_fields_to_act_on(root: Path) -> None:
    plain = {name for name, value in vars(builtins).items() if isinstance(value, type) and issubclass(value, Exception)}
    for name, path in sources(root):
        for node in ast.walk(ast.parse(path.read_bytes())):
            if isinstance(node, ast.Raise) and node.exc is not None:
                raised = ast.unparse(node.exc.func if isinstance(node.exc, ast.Call) else node.exc)
                assert raised not in plain - {"TypeError"}, f"{name}:{node.lineno}: raise one of bladewright.errors"
                assert raised != "SystemExit" or name.startswith("cli/"), f"{name}:{node.lineno}: only commands end"
