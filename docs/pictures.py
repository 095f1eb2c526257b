"""Makes the pictures of the desk in docs/pictures from the invented season, in a real browser: ``make pictures``."""

import os
import re
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

os.environ["DJANGO_SETTINGS_MODULE"] = "bladewright.web.settings"  # before anything makes Django ready

from playwright.sync_api import Browser, sync_playwright
from rich.console import Console

from examples.fennmark import desk, logging_run, people, second_batch

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent
PICTURES = HERE / "pictures"
CHROMIUM = "/usr/bin/chromium"
SETTLED = 8_000  # [ms] until what is worked out beside a page stands in it


@dataclass(frozen=True, slots=True)
class Picture:
    """One page as one person sees it; ``tall`` is how much of it is shown [px]."""

    name: str
    person: str
    address: str
    tall: int = 1100
    wide: int = 1280
    light: str = "light"


SHOWN = (
    Picture("waiting-work", people.OFFICE, "/"),
    Picture("drawing", people.OFFICE, "/drawings/FM-31/A/", 1500),
    Picture("oven", people.MAKER, "/oven/", 1400),
    Picture("blade", people.INSPECTOR, "/blades/FM31-0110/", 1600),
    Picture("coupons", people.INSPECTOR, "/coupons/", 1400),
    Picture("sets", people.OFFICE, "/sets/", 1400),
    Picture("trace", people.OFFICE, "/trace/?of=R-118"),
    Picture("materials", people.RECEIVER, "/materials/"),
    Picture("people", people.OFFICE, "/people/"),
    Picture("waiting-work-small", people.MAKER, "/", 900, 360, "dark"),
)


def main() -> None:
    """Build the season in a folder of its own, serve it, look at each page."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder:
        shop = Path(folder) / "demo-desk"
        desk.build(shop, Console(stderr=True))
        logging_run.begin(shop / "logger", second_batch.MORNING)
        chosen = dict(line.split("\t") for line in (shop / "secrets.txt").read_text(encoding="utf-8").splitlines())
        with sync_playwright() as driver:
            browser = driver.chromium.launch(executable_path=CHROMIUM, args=["--no-sandbox", "--disable-gpu"])
            for address in served(shop):
                for picture in SHOWN:
                    take(browser, address, picture, chosen[picture.person])
                    print(f"docs/pictures/{picture.name}.png", flush=True)
            browser.close()


def served(shop: Path) -> Iterator[str]:
    """The desk of this shop, in a process of its own, until the pictures are taken."""
    told = ("--book", str(shop / "book"), "--port", "0", "--logs", str(shop / "logger"))
    told += ("--clock", second_batch.MORNING.isoformat())
    environment = os.environ | {"PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1"}
    process = subprocess.Popen(
        [sys.executable, "-m", "bladewright", "desk", *told], stdout=subprocess.PIPE, text=True, env=environment
    )
    assert process.stdout is not None
    for line in process.stdout:
        if found := re.search(r"http://[\d.]+:\d+", line):
            yield found.group()
            break
    process.terminate()
    process.wait()


def take(browser: Browser, address: str, picture: Picture, secret: str) -> None:
    """One picture."""
    page = browser.new_page(
        viewport={"width": picture.wide, "height": picture.tall},
        color_scheme="dark" if picture.light == "dark" else "light",
    )
    page.goto(f"{address}/enter/")
    page.get_by_label("Your name").fill(picture.person)
    page.get_by_label("Your secret").fill(secret)
    page.get_by_role("button", name="Sign in").click()
    page.goto(address + picture.address)
    page.wait_for_timeout(SETTLED)
    page.screenshot(path=PICTURES / f"{picture.name}.png")
    page.close()


if __name__ == "__main__":
    main()
