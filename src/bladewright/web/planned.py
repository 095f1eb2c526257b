"""The plan a run is laid beside: what was set for the drawing, or the quickest that keeps its limits."""

from bladewright import __version__
from bladewright.drawing.cure_plan_file import CurePlanFile
from bladewright.making.cure_plan import CurePlan, plan_as_set, plan_cure
from bladewright.records.cure_inputs import CureDrawing
from bladewright.records.shop_files import contents, newest
from bladewright.records.shop_kinds import PLAN
from bladewright.web.working_out import Work, worked_out


def plan_for(by: CureDrawing) -> Work:
    """The plan of a drawing revision; its ``answer`` is a ``CurePlan``."""
    kept = newest(PLAN, f"{by.name} {by.revision}")
    if kept is None:
        return worked_out(["cure plan", by.sha256, __version__], lambda _: plan_cure(by.drawing))
    found: CurePlanFile = contents(kept)
    return worked_out(
        ["cure plan", by.sha256, kept.sha256, __version__], lambda _: plan_as_set(by.drawing, found.schedule)
    )


def plan_there(by: CureDrawing) -> CurePlan | None:
    """The plan, if it has been worked out and the drawing enters what a plan needs."""
    found: CurePlan | None = plan_for(by).answer
    return found
