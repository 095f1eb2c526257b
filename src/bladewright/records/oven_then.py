"""Was the oven fit on the day of a run: every oven on file, by its surveys, checks and calibrations of that day."""

from dataclasses import dataclass

from bladewright.evidence.calibration import Calibration
from bladewright.evidence.records import CureLog
from bladewright.figures import Finding, Outcome, worst_of
from bladewright.proof.oven_ready import oven_was_ready
from bladewright.records.shop_files import contents, history, standing
from bladewright.records.shop_kinds import CALIBRATION, OVEN, OvenWithSensors


@dataclass(frozen=True, slots=True)
class OvenThen:
    """One oven on the day a run ended."""

    name: str
    findings: tuple[Finding, ...]

    @property
    def outcome(self) -> Outcome:
        """Whether it might have been used that day."""
        return worst_of(self.findings)


def ovens_then(log: CureLog) -> tuple[OvenThen, ...]:
    """Each oven on file; a log does not say which of them it is of."""
    calibrations: list[Calibration] = [contents(line) for line in history(CALIBRATION)]
    kept: list[OvenWithSensors] = [contents(line) for line in standing(OVEN)]
    return tuple(OvenThen(one.oven.name, oven_was_ready(log, one.oven, calibrations)) for one in kept)
