"""The command that files a void map: the service's answer, and its refusals with the exit code they carry."""

from pathlib import Path

from typer.testing import CliRunner

from bladewright.cli.commands import app
from bladewright.evidence.void_map import VoidMapEntries, void_map_bytes
from bladewright.records.blades import about
from bladewright.records.opening import Book
from tests.records.cast import INSPECTOR, MAKER

SEAM = {"bondline": "trailing-edge seam", "inner": "0.25 m", "outer": "3.55 m"}


def test_a_map_is_filed_from_the_command_line(batch: Book, tmp_path: Path) -> None:
    path = tmp_path / "map.toml"
    path.write_bytes(void_map_bytes(VoidMapEntries("B-0101", INSPECTOR, "2026-03-20", "tapped", "", [SEAM], [])))

    def filed(by: str) -> int:
        return CliRunner().invoke(app, ["file-void-map", str(path), "--by", by, "--book", str(batch.folder)]).exit_code

    assert filed(MAKER) == 1
    assert about("B-0101").evidence == ()
    assert filed(INSPECTOR) == 0
    assert [one.kind for one in about("B-0101").evidence] == ["void map"]
