"""The page on the cure, followed word for word in an empty folder."""

import shutil
from pathlib import Path

from examples.fennmark.survey import write_survey
from tests.journeys.following import followed


def test_the_page_leads_from_a_survey_to_a_card(root: Path, tmp_path: Path) -> None:
    for name in ("fm31.toml", "survey-logger.toml"):
        shutil.copy(root / "examples" / "fennmark" / name, tmp_path)
    write_survey(tmp_path)
    before = (tmp_path / "fm31.toml").read_bytes()
    page = (root / "docs" / "howto" / "cure.md").read_text(encoding="utf-8")
    said = followed(root, tmp_path, page)
    assert len(said) == 2
    fitted, planned = said.values()
    assert "not told by this survey" in fitted
    assert "Set: up at" in planned
    assert (tmp_path / "card" / "run-card.pdf").read_bytes().startswith(b"%PDF-")
    assert "fit" in (tmp_path / "oven.toml").read_text(encoding="utf-8")
    assert (tmp_path / "fm31.toml").read_bytes() == before
