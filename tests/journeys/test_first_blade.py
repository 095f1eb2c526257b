"""The first-blade page, followed word for word in an empty folder."""

import re
from pathlib import Path

import pypdf

from tests.journeys.following import followed, ran

FILE = re.compile(r"^`([\w.-]+)`\n\n```(?:toml|text)\n(.*?)^```", re.DOTALL | re.MULTILINE)


def test_the_page_leads_from_an_empty_folder_to_a_printed_record(root: Path, tmp_path: Path) -> None:
    page = (root / "docs" / "howto" / "first-blade.md").read_text(encoding="utf-8")
    files = FILE.findall(page)
    assert len(files) == 11
    for name, text in files:
        (tmp_path / name).write_text(text, encoding="utf-8")
    said = followed(root, tmp_path, page)
    assert "0001: ACCEPTED" in said["bladewright judge 0001 --by Ida"]
    assert "FAIL" not in said["bladewright judge-log drawing.toml cure.csv --description logger.toml"]
    assert "adhesive, R-1" in said["bladewright where-lot R-1"]
    paper = pypdf.PdfReader(tmp_path / "book" / "papers" / "0001.pdf")
    text = " ".join(sheet.extract_text() for sheet in paper.pages)
    assert "not an airworthiness release" in text
    head = re.search(r"[0-9a-f]{64}", said["bladewright check-book"])
    assert head is not None
    assert "compared" in ran(root, tmp_path, f"bladewright check-book --head {head[0]}")
