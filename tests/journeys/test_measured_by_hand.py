"""``as-built`` and ``properties`` take no number without its own unit, and none off the blade."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

DRAWING = "examples/fennmark/fm31.toml"


@pytest.mark.parametrize(
    ("measured", "value"),
    [
        ("reflex.angle = 0.03", "0.03"),  # bare
        ("reflex.angle = 0.03 kg", "kg"),  # of another kind
        ("skin.top_thickness = 0.0465 deg", "deg"),
        ("reflex.angel = 2.31 deg", "reflex.angel"),
    ],
)
def test_a_departure_in_another_kind_is_refused(root: Path, measured: str, value: str) -> None:
    assert _refused(root, "as-built", DRAWING, measured)["value"] == value


def test_a_section_beyond_the_tip_is_refused(root: Path) -> None:
    refused = _refused(root, "properties", DRAWING, "--at", "9 m")
    assert (refused["field"], refused["value"], refused["allowed"]) == ("at", "9 m", "0.25 m to 3.55 m")


def _refused(root: Path, *words: str) -> dict[str, str]:
    done = subprocess.run(
        [sys.executable, "-m", "bladewright", *words, "--json"],
        cwd=root,
        env=os.environ | {"PYTHONPATH": str(root / "src"), "PYTHONIOENCODING": "utf-8"},
        capture_output=True,
        encoding="utf-8",
        check=False,
        timeout=60,
    )
    assert done.returncode == 2, done.stdout
    (error,) = json.loads(done.stderr)["errors"]
    return dict(error)
