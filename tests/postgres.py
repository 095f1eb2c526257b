"""PostgreSQL for the tests: one server for a run, reached by a socket only, and a database of its own for each book.

The server is started by the first test that needs it and ended by ``postgres_keeper`` when the run is over. A book's
folder has beside it a note of the database its tables are in; copying the folder copies the database.
"""

import contextlib
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path

import psycopg

from bladewright.records.databases.postgresql import ADDRESS
from tests.postgres_keeper import Server

RUN = "BLADEWRIGHT_TEST_RUN"  # process id of the run's first process: its workers inherit it
USER = "shop"
REMEDY = "sudo apt-get install postgresql"


def binaries() -> Path | None:
    """The folder of ``initdb`` and ``postgres``: on the path, or where Debian puts them, the newest first."""
    on_path = shutil.which("initdb")
    versions = Path("/usr/lib/postgresql").glob("[0-9]*")
    debian = sorted(versions, key=lambda path: int(path.name.partition(".")[0]), reverse=True)
    places = ([Path(on_path).resolve().parent] if on_path else []) + [path / "bin" for path in debian]
    return next((place for place in places if (place / "initdb").exists() and (place / "postgres").exists()), None)


def start() -> None:
    """See that this run's server is there; whoever comes first starts it and the others wait."""
    import fcntl

    home = _home()
    with home.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if _answers(address("postgres")):
            return
        shutil.rmtree(home, ignore_errors=True)
        keeper = subprocess.Popen(
            [sys.executable, "-m", "tests.postgres_keeper", str(home), str(binaries()), USER, os.environ[RUN]],
            cwd=Path(__file__).parents[1],
            stdin=subprocess.DEVNULL,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,
        )
        wait_for(address("postgres"))
        keeper.returncode = 0  # it outlives this process on purpose


def wait_for(address: str, seconds: float = 60.0) -> None:
    """Until a server that was started answers."""
    ends = time.monotonic() + seconds
    while not _answers(address):
        assert time.monotonic() < ends, f"no server answers at {address}"
        time.sleep(0.05)


@contextlib.contextmanager
def own_server() -> Iterator[Server]:
    """A server for one test alone, which may be treated badly."""
    found = binaries()
    assert found
    home = Path(tempfile.gettempdir()) / f"bladewright-postgres-own-{os.getpid()}"
    server = Server(home, found, USER)
    try:
        server.make()
        server.start()
        wait_for(f"host={home} dbname=postgres user={USER}")
        yield server
    finally:
        server.clear()


def address(database: str) -> str:
    """The address of one database of the server."""
    return f"host={_home()} dbname={database} user={USER}"


@contextlib.contextmanager
def connected(database: str = "postgres") -> Iterator["psycopg.Connection[tuple[object, ...]]"]:
    """A connection beside the program's own, as another program would have it."""
    with contextlib.closing(psycopg.connect(address(database), autocommit=True)) as server:
        yield server


def note_of(folder: Path) -> Path:
    """The note that says in which database the tables of a book's folder are."""
    return folder.with_name(f"{folder.name}.database")


def point_at(folder: Path) -> None:
    """From now on the address in the environment is that of this book's database."""
    os.environ[ADDRESS] = address(note_of(folder).read_text(encoding="ascii"))


def make(folder: Path, template: str = "template1") -> None:
    """A new database for a book's folder, a copy of another one; nobody may be connected to that."""
    name = f"{os.environ.get('PYTEST_XDIST_WORKER', 'alone')}_{os.getpid()}_{time.monotonic_ns()}"
    with connected() as server:
        server.execute(f'CREATE DATABASE "{name}" TEMPLATE "{template}"'.encode())
    note_of(folder).write_text(name, encoding="ascii")
    point_at(folder)
    _made.append(folder)


def copied(folder: Path, to: Path) -> None:
    """The database of a book's folder, for the copy of the folder."""
    make(to, note_of(folder).read_text(encoding="ascii"))


@contextlib.contextmanager
def cleared() -> Iterator[None]:
    """Databases made from here on are taken away at the end, whoever is still connected."""
    before = len(_made)
    yield
    if len(_made) > before:
        with connected() as server:
            for folder in _made[before:]:
                name = note_of(folder).read_text(encoding="ascii")
                server.execute(f'DROP DATABASE IF EXISTS "{name}" WITH (FORCE)'.encode())
        del _made[before:]


_made: list[Path] = []


def _home() -> Path:
    return (
        Path(tempfile.gettempdir()) / f"bladewright-postgres-{os.environ[RUN]}"
    )  # short: a socket's name may not be long


def _answers(address: str) -> bool:
    with contextlib.suppress(psycopg.OperationalError), contextlib.closing(psycopg.connect(address)):
        return True
    return False
