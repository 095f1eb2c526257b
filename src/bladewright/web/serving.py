"""Starts the desk: the book opened for writing, the key read, one process with threads. Nothing leaves the machine."""

import datetime
import os
import secrets
import socket
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Final

os.environ["DJANGO_SETTINGS_MODULE"] = "bladewright.web.settings"  # before anything makes Django ready

#: as many people as stand around a shop, and as many tablets [count]
THREADS: Final = 8
LARGEST_REQUEST: Final = 1_000_000_000  # [byte]
LOCAL: Final = "127.0.0.1"


@dataclass(frozen=True, slots=True)
class Start:
    """What one start of the desk decides."""

    book: Path
    host: str = LOCAL
    port: int = 8031
    names: tuple[str, ...] = ()  # other names the machine is called by in the shop
    logs: Path | None = None
    clock: datetime.datetime | None = None  # for a demo book: the day it is shown on


def application(start: Start) -> Callable[..., Any]:
    """The desk of one book, ready to be served."""
    from django.conf import settings
    from django.core.wsgi import get_wsgi_application

    from bladewright.errors import BadInput
    from bladewright.records.opening import open_book

    book = open_book(start.book)
    from bladewright.web import clock
    from bladewright.web.preferences import desk_folder

    if start.clock is not None and not book.demo:
        raise BadInput(
            "only a demo book is shown on another day",
            field="clock",
            value=start.clock.isoformat(),
            allowed="a demo book, or no clock",
            fix="start it without a clock",
        )
    clock.begin_at(start.clock)
    settings.SECRET_KEY = _key(desk_folder(book.folder))
    settings.ALLOWED_HOSTS = [*settings.ALLOWED_HOSTS, start.host, *start.names, *own_names()]
    settings.DESK_LOGS = start.logs
    return get_wsgi_application()


def serve(start: Start, ready: Callable[[str], None]) -> None:
    """Serve until stopped; ``ready`` is told where, and the code of this start if nobody has come in yet."""
    import waitress  # type: ignore[import-untyped]

    from bladewright.errors import ComputerRefused

    desk = application(start)
    try:
        server = waitress.create_server(
            desk,
            host=start.host,
            port=start.port,
            threads=THREADS,
            ident="bladewright",
            max_request_body_size=LARGEST_REQUEST,
            clear_untrusted_proxy_headers=True,
        )
    except OSError as error:
        raise ComputerRefused.because(error, f"{start.host}:{start.port}") from error
    ready(f"http://{'127.0.0.1' if start.host in ('0.0.0.0', '::') else start.host}:{server.effective_port}/")
    server.run()


def own_names() -> Sequence[str]:
    """What this machine calls itself, and where the shop's own network finds it."""
    name = socket.gethostname()
    try:
        found = {str(entry[4][0]) for entry in socket.getaddrinfo(name, None)}
    except OSError:
        found = set()
    return (name, f"{name}.local", *sorted(found))


def _key(folder: Path) -> str:
    """What sessions are sealed with: made once, readable by this account only."""
    place = folder.joinpath("key")
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    if not place.exists():
        fresh = os.open(place, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(fresh, "w", encoding="ascii") as kept:
            kept.write(secrets.token_urlsafe(48))
    return place.read_text(encoding="ascii").strip()
