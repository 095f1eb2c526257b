"""Each chart with its title, what it shows in words for those who cannot see it, and a note under it."""

from dataclasses import dataclass, field
from typing import Any

from bladewright.drawing.file import BladeDrawing
from bladewright.papers.cure_chart import cure_chart, cure_words
from bladewright.papers.planform_chart import planform_chart, planform_words
from bladewright.papers.pull_chart import pull_chart, pull_words
from bladewright.papers.records import CureChart, PullChart


@dataclass
class Pictures:
    """The picture files of one paper, numbered as they are drawn."""

    files: dict[str, bytes] = field(default_factory=dict)

    def add(self, title: str, svg: bytes, alt: str, note: str) -> dict[str, Any]:
        """File the picture and say how it is shown."""
        name = f"picture-{len(self.files)}.svg"
        self.files[name] = svg
        return {"title": title, "file": name, "alt": alt, "note": note}


def cure_picture(pictures: Pictures, item: CureChart) -> dict[str, Any]:
    """The cure log with its limits, or a line that says why it cannot be drawn."""
    title = f"Cure log {item.log.source.file}"
    if len(item.log.seconds) < 2:
        return {"title": title, "file": None, "alt": "", "note": "the log has fewer than two rows: nothing to draw"}
    alt, note = cure_words(item)
    return pictures.add(title, cure_chart(item), alt, note)


def pull_picture(pictures: Pictures, item: PullChart) -> dict[str, Any]:
    """The pull curve with the judged part and the limit."""
    title = f"Pull curve of the {item.label} coupon, {item.curve.source.file}"
    if len(item.curve.travel) < 2:
        return {"title": title, "file": None, "alt": "", "note": "the curve has fewer than two rows: nothing to draw"}
    alt, note = pull_words(item)
    return pictures.add(title, pull_chart(item), alt, note)


def planform_picture(pictures: Pictures, drawing: BladeDrawing) -> dict[str, Any]:
    """The planform with what is built into it."""
    alt, note = planform_words(drawing)
    return pictures.add(f"Planform of {drawing.name}", planform_chart(drawing), alt, note)
