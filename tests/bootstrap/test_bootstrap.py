"""What bootstrap.py would run, with nothing run: every command is written down instead."""

import json
import sys
from pathlib import Path

import pytest

import bootstrap

PYPROJECT = "[project]\nname = 'bladewright'\n"


class Commands:
    """Stands where commands are run; those that contain a marked word fail."""

    def __init__(self) -> None:
        self.run: list[str] = []
        self.failing: set[str] = set()

    def __call__(self, *command: str | Path) -> int:
        words = [Path(str(part)).name if str(part).startswith("/") else str(part) for part in command]
        self.run.append(" ".join(words))
        return 7 if self.failing & set(words) else 0


@pytest.fixture
def commands(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Commands:
    """A repository of three locks whose environment is a folder with an empty file for Python."""
    venv = tmp_path / ".venv"
    (tmp_path / "requirements").mkdir()
    for name in ("installer", "run", "dev"):
        (tmp_path / "requirements" / f"{name}.txt").write_text(f"{name}==1\n")
    (tmp_path / "pyproject.toml").write_text(PYPROJECT)

    def create(folder: Path, *, with_pip: bool, clear: bool) -> None:
        assert with_pip
        assert clear
        commands.run.append("make .venv")
        (folder / "bin").mkdir(parents=True, exist_ok=True)
        (folder / "bin" / "python").write_text("")

    commands = Commands()
    for name, value in {
        "ROOT": tmp_path,
        "VENV": venv,
        "BIN": venv / "bin",
        "PYTHON": venv / "bin" / "python",
        "MEMORY": venv / "made-from.json",
        "exit_code": commands,
    }.items():
        monkeypatch.setattr(bootstrap, name, value)
    monkeypatch.setattr(bootstrap.venv, "create", create)
    return commands


def installed(commands: Commands) -> list[str]:
    """The locks that were installed and by what, and whether .venv was made."""
    said = []
    for command in commands.run:
        if command == "make .venv":
            said.append(command)
        elif "-r" in command.split():
            said.append(f"{'uv' if ' uv ' in command else 'pip'}: {Path(command.split()[-1]).stem}")
    return said


def test_a_lock_is_installed_by_the_pinned_installer_and_always_by_hash(commands: Commands) -> None:
    bootstrap.make_environment("run")
    assert installed(commands) == ["make .venv", "pip: installer", "uv: run"]
    assert all("--require-hashes" in command for command in commands.run if "-r" in command.split())
    assert commands.run[-1] == "python -m pip install --quiet --no-deps --no-build-isolation --editable ."


@pytest.mark.parametrize("first", ["run", "dev"])
def test_a_second_call_installs_nothing(commands: Commands, first: str) -> None:
    bootstrap.make_environment(first)
    commands.run.clear()
    bootstrap.make_environment("run")
    assert commands.run == []


def test_development_comes_on_top_of_running(commands: Commands) -> None:
    bootstrap.make_environment("run")
    commands.run.clear()
    bootstrap.make_environment("dev")
    assert installed(commands) == ["pip: installer", "uv: dev"]


@pytest.mark.parametrize("changed", ["requirements/run.txt", "pyproject.toml"])
def test_what_it_was_made_from_changed_so_it_is_made_anew(commands: Commands, tmp_path: Path, changed: str) -> None:
    bootstrap.make_environment("run")
    commands.run.clear()
    (tmp_path / changed).write_text("# another\n")
    bootstrap.make_environment("run")
    assert installed(commands) == ["make .venv", "pip: installer", "uv: run"]


@pytest.mark.parametrize("broken", ["uv", "requirements/installer.txt"])
def test_without_the_installer_pip_installs_the_same_lock(commands: Commands, broken: str) -> None:
    commands.failing = {broken}
    bootstrap.make_environment("run")
    assert installed(commands)[-1] == "pip: run"
    assert "run" in json.loads(bootstrap.MEMORY.read_text())


def test_an_environment_that_was_not_finished_is_made_anew(commands: Commands) -> None:
    commands.failing = {"--editable"}
    with pytest.raises(SystemExit) as caught:
        bootstrap.make_environment("run")
    assert caught.value.code == 7
    commands.failing.clear()
    commands.run.clear()
    bootstrap.make_environment("run")
    assert installed(commands)[0] == "make .venv"


def test_a_failed_task_is_our_exit_code(commands: Commands) -> None:
    commands.failing = {"pytest"}
    with pytest.raises(SystemExit) as caught:
        bootstrap.test(["-x"])
    assert caught.value.code == 7
    assert commands.run == ["python -m pytest --numprocesses=auto -x"]


def test_lint_asks_for_style_types_and_order(commands: Commands) -> None:
    bootstrap.lint([])
    assert commands.run == [
        "python -m ruff check .",
        "python -m ruff format --check .",
        "python -m mypy",
        "lint-imports",
    ]


@pytest.mark.parametrize("version", [(3, 10), (3, 14)])
def test_another_python_is_refused_with_what_to_type(version: tuple[int, int], monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "version_info", (*version, 0))
    with pytest.raises(SystemExit, match=f"{version[0]}.{version[1]}"):
        bootstrap.refuse_unsuitable_python()


def test_a_python_without_ensurepip_is_told_what_brings_it(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(bootstrap, "find_spec", lambda name: None if name == "ensurepip" else object())
    with pytest.raises(SystemExit, match=r"apt-get install python3\.\d+-venv"):
        bootstrap.refuse_unsuitable_python()


def test_python_versions_are_those_declared(root: Path) -> None:
    declared = (root / "pyproject.toml").read_text(encoding="utf-8")
    oldest, newest = bootstrap.OLDEST, bootstrap.NEWEST
    assert f'requires-python = ">={oldest[0]}.{oldest[1]},<{newest[0]}.{newest[1] + 1}"' in declared


def test_every_task_is_a_make_target(root: Path) -> None:
    (targets,) = [row for row in (root / "Makefile").read_text().splitlines() if row.startswith(".PHONY:")]
    assert targets.split()[1:] == list(bootstrap.TASKS)
