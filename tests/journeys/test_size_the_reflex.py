"""The page on sizing the reflex, followed word for word in an empty folder."""

import shutil
from pathlib import Path

from tests.journeys.following import followed


def test_the_page_leads_from_a_drawing_to_a_report(root: Path, tmp_path: Path) -> None:
    shutil.copy(root / "examples" / "fennmark" / "fm31.toml", tmp_path)
    before = (tmp_path / "fm31.toml").read_bytes()
    page = (root / "docs" / "howto" / "size-the-reflex.md").read_text(encoding="utf-8")
    said = followed(root, tmp_path, page)
    assert len(said) == 6
    sized = said['bladewright size-reflex fm31.toml --handle-force "2 lbf"']
    for words in ("loose skin", "mould", "finished blade", "inside the band"):
        assert words in sized
    assert "its tolerance" in said["bladewright sensitivities fm31.toml"]
    assert "What moved" in said['bladewright compare-change fm31.toml "reflex.angle=2.3 deg"']
    assert (tmp_path / "report" / "index.html").is_file()
    assert (tmp_path / "report" / "flight-report.pdf").read_bytes().startswith(b"%PDF-")
    assert (tmp_path / "fm31.toml").read_bytes() == before
