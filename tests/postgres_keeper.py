"""Runs a PostgreSQL server for as long as a test run lives: makes it, waits for the run's end, ends it, clears it away.

Started by ``tests.postgres``; a process of its own, so that the server ends even when the run is killed. The server
refuses to run as root, so root hands it to another user.
"""

import os
import pwd
import shutil
import signal
import subprocess
import sys
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any


@dataclass
class Server:
    """A server in a folder of its own, reached by a socket in that folder only."""

    home: Path
    binaries: Path
    user: str
    process: "subprocess.Popen[bytes] | None" = None
    who: dict[str, Any] = field(default_factory=lambda: other_user())

    def make(self) -> None:
        """An empty server: it orders words by the rules of a language where that can be had."""
        self.home.mkdir(mode=0o755)
        if self.who:
            os.chown(self.home, self.who["user"], self.who["group"])
        initdb = self.binaries / "initdb"
        offered = subprocess.run([initdb, "--help"], capture_output=True, text=True, check=True).stdout
        how = ["--locale-provider=icu", "--icu-locale=en-US"] if "--icu-locale" in offered else []
        made = [initdb, "-D", self.home / "data", "-U", self.user, "-A", "trust", "-E", "UTF8", "--no-sync"]
        self._run(subprocess.check_call, [*made, "--locale=C", *how])

    def start(self) -> None:
        """The server; it may take a moment until it answers."""
        settings = {
            "listen_addresses": "",
            "unix_socket_directories": str(self.home),
            "max_connections": "300",
            "autovacuum": "off",  # its workers would stand in the way of copying a database
        }
        asked = [part for name, value in settings.items() for part in ("-c", f"{name}={value}")]
        self.process = self._run(subprocess.Popen, [self.binaries / "postgres", "-D", self.home / "data", *asked])

    def crash(self) -> None:
        """Stop without writing anything more: the next start recovers by the server's own log."""
        if self.process is not None:
            self.process.send_signal(signal.SIGQUIT)
            self.process.wait()

    def clear(self) -> None:
        """Nothing of it is left."""
        self.crash()
        shutil.rmtree(self.home, ignore_errors=True)

    def _run(self, how: Any, command: list[Any]) -> Any:
        with (self.home / "log").open("ab") as log:
            return how(command, stdout=log, stderr=log, cwd="/", **self.who)


def other_user() -> dict[str, Any]:
    """Whom a server started by root runs as; anybody else runs it themselves."""
    if os.geteuid() != 0:
        return {}
    names = {entry.pw_name: entry for entry in pwd.getpwall()}
    chosen = names.get("postgres") or names["nobody"]
    return {"user": chosen.pw_uid, "group": chosen.pw_gid, "extra_groups": []}


def lives(process: int) -> bool:
    """Whether a process runs; one that has ended and was not yet waited for does not."""
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except PermissionError:
        return True
    stat = Path(f"/proc/{process}/stat")
    return not stat.exists() or stat.read_text(encoding="ascii", errors="replace").rpartition(")")[2].split()[0] != "Z"


def main(server: Server, run: int) -> None:
    """Until the run ends, or the server does."""
    server.make()
    server.start()
    try:
        while lives(run) and server.process is not None and server.process.poll() is None:
            time.sleep(0.3)
    finally:
        server.clear()
        server.home.with_suffix(".lock").unlink(missing_ok=True)


if __name__ == "__main__":
    main(Server(Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3]), int(sys.argv[4]))
