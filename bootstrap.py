"""Make the environment from the hashed locks, then do what was asked: demo, desk, test, bench, lint, lock ...

Standard library only, since it runs before anything is installed. An environment remembers which locks it was made
from, so that a second call installs nothing and a changed lock makes it anew.
"""

import argparse
import hashlib
import json
import os
import subprocess
import sys
import venv
from collections.abc import Callable, Sequence
from importlib.util import find_spec
from pathlib import Path

ROOT = Path(__file__).resolve().parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")
MEMORY = VENV / "made-from.json"
OLDEST, NEWEST = (3, 11), (3, 13)

Arguments = Sequence[str | Path]


def demo(arguments: Arguments) -> None:
    """Build the invented shop's book and show what it answers."""
    run(PYTHON, "-m", "examples.fennmark.demo", *arguments)


def desk(arguments: Arguments) -> None:
    """Open the shop desk on the invented shop's book, in the browser of this machine."""
    run(PYTHON, "-m", "examples.fennmark.desk", *arguments)


def test(arguments: Arguments) -> None:
    """Run the tests, one worker for each core; the pages that are followed word for word take longest."""
    run(PYTHON, "-m", "pytest", "--numprocesses=auto", *arguments)


def bench(arguments: Arguments) -> None:
    """Run the benchmarks and write build/bench.json."""
    run(PYTHON, "-m", "benchmarks", *arguments)


def lint(arguments: Arguments) -> None:
    """Check style, types and the order of the imports."""
    run(PYTHON, "-m", "ruff", "check", ".", *arguments)
    run(PYTHON, "-m", "ruff", "format", "--check", ".")
    run(PYTHON, "-m", "mypy")
    run(BIN / "lint-imports")


def lock(arguments: Arguments) -> None:
    """Resolve the locks anew: every system, Python 3.11 and up, a hash for every file, no index named."""
    how = ("--universal", "--python-version", "3.11", "--generate-hashes", "--no-emit-index-url", "--no-config")
    said = ("--quiet", "--custom-compile-command", "python bootstrap.py lock")
    for name, inputs in (
        ("installer", ("--group", "installer")),
        ("run", ("pyproject.toml", "--group", "build")),
        ("dev", ("pyproject.toml", "--group", "dev", "--constraint", "requirements/run.txt")),
    ):
        print(f"resolving {lock_file(name)}", flush=True)
        run(PYTHON, "-m", "uv", "pip", "compile", *inputs, *how, *said, "--output-file", lock_file(name), *arguments)


def pages(arguments: Arguments) -> None:
    """Make the pages that are gathered from each room's lists."""
    run(PYTHON, "docs/merge.py", *arguments)


def pictures(arguments: Arguments) -> None:
    """Make the pictures of the desk, with Chromium."""
    run(PYTHON, "-m", "docs.pictures", *arguments)


TASKS: dict[str, tuple[Callable[[Arguments], None], str]] = {
    "demo": (demo, "run"),
    "desk": (desk, "run"),
    "test": (test, "dev"),
    "bench": (bench, "dev"),
    "lint": (lint, "dev"),
    "lock": (lock, "installer"),
    "pages": (pages, "run"),
    "pictures": (pictures, "dev"),
}


def lock_file(name: str) -> str:
    """Where a lock lies, from the root."""
    return f"requirements/{name}.txt"


def run(*command: str | Path) -> None:
    """Run one command from the root; if it fails, so do we, with its own exit code."""
    if code := exit_code(*command):
        raise SystemExit(code)


def exit_code(*command: str | Path) -> int:
    """Run one command from the root with nothing inherited that would choose another Python for it."""
    environment = {name: value for name, value in os.environ.items() if name not in ("PYTHONPATH", "PYTHONHOME")}
    environment |= {"UV_PYTHON_DOWNLOADS": "never", "VIRTUAL_ENV": str(VENV)}
    return subprocess.run([str(part) for part in command], cwd=ROOT, env=environment, check=False).returncode


def refuse_unsuitable_python() -> None:
    """Say before anything is made what is wrong with this Python and the one command that mends it."""
    version = sys.version_info[:2]
    if not OLDEST <= version <= NEWEST:
        sys.exit(
            f"bladewright runs on Python 3.{OLDEST[1]} to 3.{NEWEST[1]}; this is {version[0]}.{version[1]}.\n"
            "  fix: name another one, like: make PYTHON=python3.12 demo"
        )
    if find_spec("ensurepip") is None:
        sys.exit(
            "This Python cannot make environments: its ensurepip is missing.\n"
            f"  fix: sudo apt-get install python{version[0]}.{version[1]}-venv"
        )


def made_from() -> dict[str, str]:
    """Which locks the environment was made from, by hash; empty if it was never finished."""
    try:
        remembered: dict[str, str] = json.loads(MEMORY.read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return {}
    return remembered


def lock_hash(name: str) -> str:
    """What an environment made from a lock depends on: the lock, the project's own declaration, this Python."""
    parts = ((ROOT / lock_file(name)).read_bytes(), (ROOT / "pyproject.toml").read_bytes(), sys.version.encode())
    return hashlib.sha256(b"\0".join(parts)).hexdigest()


def make_environment(name: str) -> None:
    """Bring .venv to a lock; the development lock holds all that the running one does."""
    now = {lock: lock_hash(lock) for lock in ("installer", "run", "dev")}
    then = made_from()
    if any(now[lock] != known for lock, known in then.items()):
        then = {}
    if name in then or (name == "run" and "dev" in then):
        return
    if not then or not PYTHON.exists():
        print("making .venv", flush=True)
        venv.create(VENV, with_pip=True, clear=True)
        then = {}
    MEMORY.unlink(missing_ok=True)
    if name == "installer":
        run(PYTHON, "-m", "pip", "install", "--quiet", "--require-hashes", "-r", lock_file("installer"))
    else:
        install(name)
    MEMORY.write_text(json.dumps(then | {name: now[name]}), encoding="utf-8")


def install(name: str) -> None:
    """Install a lock and the project itself: with the pinned uv if it can be had, else with pip."""
    print(f"installing {lock_file(name)}", flush=True)
    by_pip = (PYTHON, "-m", "pip", "install", "--quiet")
    by_uv = (PYTHON, "-m", "uv", "pip", "install", "--quiet", "--no-config")
    locked = ("--require-hashes", "-r", lock_file(name))
    ours = ("--no-deps", "--no-build-isolation", "--editable", ".")
    if exit_code(*by_pip, "--require-hashes", "-r", lock_file("installer")) or exit_code(*by_uv, *locked):
        print("uv could not install it; trying pip", flush=True)
        run(*by_pip, *locked)
    run(*by_pip, *ours)


def main() -> None:
    """Read what is asked, bring the environment there, do it."""
    told = "\n".join(f"  {name:8} {work.__doc__}" for name, (work, _) in TASKS.items())
    parser = argparse.ArgumentParser(
        description="Bring .venv to the locks, then do one of:\n" + told,
        epilog="What follows the task is handed on to it: python bootstrap.py test tests/units",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("task", choices=TASKS)
    parser.add_argument("arguments", nargs=argparse.REMAINDER)
    asked = parser.parse_args()
    refuse_unsuitable_python()
    work, name = TASKS[asked.task]
    make_environment(name)
    work(asked.arguments)


if __name__ == "__main__":
    main()
