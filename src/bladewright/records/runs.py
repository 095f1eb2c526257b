"""The cures on file as runs that can be judged again: each log with the limits and the serials it was filed for."""

import datetime
from collections import defaultdict

from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import parse_logger_description
from bladewright.proof.affected_runs import Run
from bladewright.proof.reached_runs import run_of
from bladewright.records.chain import utc_text
from bladewright.records.drawings import read_filed as read_drawing
from bladewright.records.evidence import CURE
from bladewright.records.keeping import kept
from bladewright.records.ready import models


def filed_runs(
    sensor: str, channel: str = "", since: datetime.datetime | None = None
) -> tuple[tuple[Run, ...], tuple[tuple[str, str], ...]]:
    """Every cure on file, once for each drawing its blades were made by; and files that no limit was entered for.

    What was filed before ``since`` had ended before it, and is left out.
    """
    runs, without = [], []
    rows = models.Evidence.objects.select_related("file", "description").filter(kind=CURE).order_by("id")
    if since is not None:
        rows = rows.filter(event__at__gte=utc_text(since))
    for row in rows:
        assert row.description is not None  # a log is never filed without its description
        how = parse_logger_description(kept(row.description), row.description.name)
        log = read_cure_log(kept(row.file), how, row.file.name)
        serials = defaultdict(list)
        drawings = {}
        for of in row.blades.select_related("blade__drawing__file").order_by("blade__serial"):
            drawings[of.blade.drawing_id] = of.blade.drawing
            serials[of.blade.drawing_id].append(of.blade.serial)
        for number, drawing in drawings.items():
            limits = read_drawing(drawing).limits.cure
            if limits is None:
                without.append((row.file.name, f"the drawing of {', '.join(serials[number])} has no cure limits"))
            else:
                runs.append(run_of(log, limits, sensor, channel, tuple(serials[number])))
    return tuple(runs), tuple(without)
