"""The page on whether a blade stays in one piece, followed word for word in an empty folder."""

import shutil
from pathlib import Path

from tests.journeys.following import followed


def test_the_page_leads_from_a_drawing_to_the_whole_answer(root: Path, tmp_path: Path) -> None:
    shutil.copy(root / "examples" / "fennmark" / "fm31.toml", tmp_path)
    before = (tmp_path / "fm31.toml").read_bytes()
    page = (root / "docs" / "howto" / "stays-in-one-piece.md").read_text(encoding="utf-8")
    said = followed(root, tmp_path, page, ends=(0, 1))  # a refer is an answer
    assert len(said) == 4
    shaken, safe, repainted, whole = said.values()
    assert "per rev" in shaken
    assert "mass centre may move aft" in safe
    assert "NOT MATCHED any more" in " ".join(repainted.split())
    assert "Does it stay in one piece?" in whole
    assert (tmp_path / "structure" / "index.html").is_file()
    assert (tmp_path / "structure" / "structure-report.pdf").read_bytes().startswith(b"%PDF-")
    assert (tmp_path / "fm31.toml").read_bytes() == before
