"""The oven fitted to its survey, the plan it gives with its run card, and what zone 4's death took."""

import datetime
from dataclasses import dataclass
from pathlib import Path

from bladewright import __version__
from bladewright.design.oven_fit import FittedSurvey, fit_oven
from bladewright.drawing.file import parse_drawing
from bladewright.drawing.oven import oven_file
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description
from bladewright.figures import digest
from bladewright.making.cure_plan import plan_cure
from bladewright.making.run_card import RunCard, run_card
from bladewright.papers.run_card import RunCardPaper, run_card_pdf
from bladewright.proof.cure_cost import CureCost
from bladewright.proof.cure_fault import CureFault, cost_of_fault
from examples.fennmark.survey import write_survey

HERE = Path(__file__).parent
OVEN, CARD = "oven.toml", "run-card.pdf"
DEAD = CureFault(zone=4, dead_after=40.0 * 60.0)


@dataclass(frozen=True, slots=True)
class CureStory:
    """What the survey told, what was planned from it, and what the fault took."""

    fitted: FittedSurvey
    card: RunCard
    cost: CureCost


def cure_files(folder: Path, dated: datetime.datetime) -> tuple[CureStory, dict[str, bytes]]:
    """The story, and its files by name; the survey is written among the shop's own files in ``folder``."""
    data = (HERE / "fm31.toml").read_bytes()
    drawing = parse_drawing(data, "fm31.toml")
    assert drawing.oven is not None
    assert drawing.limits.cure is not None
    assert drawing.limits.cure.sensor_uncertainty is not None
    log = read_cure_log(write_survey(folder), read_logger_description(HERE / "survey-logger.toml"))
    fitted = fit_oven(drawing.oven, log, drawing.limits.cure.sensor_uncertainty)
    card = run_card(drawing, plan_cure(drawing, fitted.entries))
    paper = RunCardPaper(card, drawing.title, digest(data), __version__, dated, demo=True)
    story = CureStory(fitted, card, cost_of_fault(drawing, DEAD, fitted.entries))
    return story, {OVEN: oven_file("fitted", fitted.entries), CARD: run_card_pdf(paper)}
