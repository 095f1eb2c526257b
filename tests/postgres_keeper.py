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
from pathlib import Path


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


def other_user() -> dict[str, object]:
    """Whom a server started by root runs as; anybody else runs it themselves."""
    if os.geteuid() != 0:
        return {}
    names = {entry.pw_name: entry for entry in pwd.getpwall()}
    chosen = names.get("postgres") or names["nobody"]
    return {"user": chosen.pw_uid, "group": chosen.pw_gid, "extra_groups": []}


def main(home: Path, binaries: Path, user: str, run: int) -> None:
    """Until the run ends."""
    who = other_user()
    home.mkdir(mode=0o755)
    if who:
        os.chown(home, int(str(who["user"])), int(str(who["group"])))
    with (home / "log").open("wb") as log:
        (home / "log").chmod(0o644)
        made = [binaries / "initdb", "-D", home / "data", "-U", user, "-A", "trust", "-E", "UTF8", "--no-sync"]
        offered = subprocess.run([binaries / "initdb", "--help"], capture_output=True, text=True, check=True).stdout
        # ordered by the rules of a language where that can be had: the book must order by bytes all the same
        how = ["--locale-provider=icu", "--icu-locale=en-US"] if "--icu-locale" in offered else []
        subprocess.run([*made, "--locale=C", *how], stdout=log, stderr=log, cwd="/", check=True, **who)  # type: ignore[call-overload]
        settings = {
            "listen_addresses": "",
            "unix_socket_directories": str(home),
            "max_connections": "300",
            "autovacuum": "off",
        }
        asked = [part for name, value in settings.items() for part in ("-c", f"{name}={value}")]
        server = subprocess.Popen(  # type: ignore[call-overload]
            [binaries / "postgres", "-D", home / "data", *asked], stdout=log, stderr=log, cwd="/", **who
        )
        while lives(run) and server.poll() is None:
            time.sleep(0.3)
        server.send_signal(signal.SIGQUIT)
        server.wait()
    shutil.rmtree(home, ignore_errors=True)
    home.with_suffix(".lock").unlink(missing_ok=True)


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), sys.argv[3], int(sys.argv[4]))
