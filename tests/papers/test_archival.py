"""The PDF keeps and reads aloud, as far as its own marks say, and is the same bytes always.

The marks looked for (pdfaid, pdfuaid, MarkInfo, Lang, DisplayDocTitle) are those that ISO 19005-2:2011 (level A) and
ISO 14289-1:2014 ask for; from memory. No conformance checker is run.
"""

import io
import os
import subprocess
import sys
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader
from pypdf.generic import DictionaryObject, IndirectObject

from bladewright.papers.blade import blade_record
from bladewright.papers.records import BladeRecordPaper
from bladewright.papers.sets import set_record
from tests.papers.invented_papers import a_set

ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module", params=["blade", "set"])
def reader(request: pytest.FixtureRequest, full: BladeRecordPaper) -> PdfReader:
    return PdfReader(io.BytesIO(blade_record(full) if request.param == "blade" else set_record(a_set())))


def objects(reader: PdfReader) -> Iterator[Any]:
    for number in range(1, int(reader.trailer["/Size"])):  # type: ignore[call-overload]
        yield reader.get_object(IndirectObject(number, 0, reader))


def test_metadata_claims_archival_level_a_and_accessibility(reader: PdfReader) -> None:
    xmp = reader.trailer["/Root"]["/Metadata"].get_data().decode()  # type: ignore[index]
    for said in (
        "<pdfaid:part>2</pdfaid:part>",
        "<pdfaid:conformance>A</pdfaid:conformance>",
        "<pdfuaid:part>1</pdfuaid:part>",
    ):
        assert said in xmp


def test_it_is_tagged_titled_and_has_a_language(reader: PdfReader) -> None:
    root: Any = reader.trailer["/Root"]
    assert root["/MarkInfo"]["/Marked"] is not None
    assert bool(root["/MarkInfo"]["/Marked"])
    assert root["/Lang"] == "en-GB"
    assert "/StructTreeRoot" in root
    assert bool(root["/ViewerPreferences"]["/DisplayDocTitle"])
    assert reader.metadata is not None
    assert reader.metadata.title in ("Blade FM31-0007", "Set S-004")


def test_all_fonts_are_embedded(reader: PdfReader) -> None:
    descriptors = [
        o for o in objects(reader) if isinstance(o, DictionaryObject) and o.get("/Type") == "/FontDescriptor"
    ]
    assert descriptors
    for descriptor in descriptors:
        assert {"/FontFile", "/FontFile2", "/FontFile3"} & set(descriptor)
        assert "DejaVu" in descriptor["/FontName"]


def test_nothing_in_it_reaches_out(reader: PdfReader) -> None:
    reaching = {"/URI", "/Launch", "/GoToR", "/JavaScript", "/SubmitForm", "/ImportData"}
    for found in objects(reader):
        if isinstance(found, DictionaryObject):
            assert found.get("/S") not in reaching
            assert "/EmbeddedFile" not in str(found.get("/Type", ""))


def test_every_picture_has_words_for_those_who_cannot_see_it(reader: PdfReader) -> None:
    figures = [o for o in objects(reader) if isinstance(o, DictionaryObject) and o.get("/S") == "/Figure"]
    texts = [str(figure.get("/Alt", "")) for figure in figures]
    assert all(len(text) > 20 for text in texts)
    assert any("Data Matrix" in text for text in texts)
    wanted = ("Cure log", "Pull curve", "Planform") if len(texts) > 2 else ("Differences",)
    for words in wanted:
        assert any(words in text for text in texts)


@pytest.mark.parametrize("kind", ["blade", "set"])
def test_two_processes_with_different_hashing_make_the_same_bytes(kind: str) -> None:
    script = (
        "import sys, hashlib; sys.path[:0] = sys.argv[1:3]; import tests.papers.invented_papers as c\n"
        "from bladewright.papers.blade import blade_record; from bladewright.papers.sets import set_record\n"
        "paper = set_record(c.a_set()) if sys.argv[3] == 'set' else blade_record(c.everything())\n"
        "print(hashlib.sha256(paper).hexdigest())"
    )
    hashes = {
        subprocess.run(
            [sys.executable, "-c", script, str(ROOT / "src"), str(ROOT), kind],
            env={**os.environ, "PYTHONHASHSEED": salt, "TZ": zone},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for salt, zone in (("1", "UTC"), ("4242", "Asia/Tokyo"))
    }
    assert len(hashes) == 1


def test_papers_made_at_once_are_the_same_as_one_alone(full: BladeRecordPaper) -> None:
    alone = blade_record(full), set_record(a_set())
    with ThreadPoolExecutor(4) as pool:
        made = [pool.submit(blade_record, full) for _ in range(2)], [pool.submit(set_record, a_set()) for _ in range(2)]
        assert {job.result() for job in made[0]} == {alone[0]}
        assert {job.result() for job in made[1]} == {alone[1]}
