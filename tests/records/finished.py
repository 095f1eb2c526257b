"""Finished blades of the invented batch in an open book: measured, most of them weighed, judged as a test says."""

from collections.abc import Sequence

from bladewright.records.blades import start_blade
from bladewright.records.evidence import file_dimensions, file_weighing
from bladewright.records.judging import judge
from examples.fennmark.evidence import Evidence
from tests.records.cast import INSPECTOR, MAKER, by

ONE, TWO, THREE, UNWEIGHED = "FM31-0107", "FM31-0112", "FM31-0114", "FM31-0113"
FOUR = "FM31-0116"


def finish(files: Evidence, serials: Sequence[str] = (ONE, TWO, THREE, UNWEIGHED)) -> None:
    """Start, measure, weigh and judge them."""
    for blade in files.blades:
        if blade.serial in serials:
            start_blade(by(MAKER), blade.serial, "FM-31", "A")
            file_dimensions(by(INSPECTOR), blade.dimensions)
            if blade.weighing is not None:
                file_weighing(by(MAKER), blade.weighing)
            judge(by(INSPECTOR), blade.serial)
