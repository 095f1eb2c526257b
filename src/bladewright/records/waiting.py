"""Waiting work: what waits for whom, in the order in which it stops the shop."""

import datetime
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from bladewright.proof.dues import AHEAD
from bladewright.records import waiting_shop as shop
from bladewright.records.book import opened
from bladewright.records.open_blades import LOOKED_AT
from bladewright.records.shop_files import shelf
from bladewright.records.shop_kinds import CALIBRATION, GAUGE, OVEN, ROLL, RULE
from bladewright.records.waiting_blades import sorted_blades
from bladewright.records.waiting_lines import SHOWN, Found, Group, Waiting, held_since, people_by_scope, told
from bladewright.records.waiting_shop import CureRunning

#: what stops the shop first stands first: a clock that runs, then what nothing may be made with, then decisions
_IN_ORDER: Final = (
    ("running", "Cures running", "What is in the oven now comes before everything else."),
    ("unread", "Files nobody can read any more", "What they told is not known, which counts as the worst case."),
    ("adhesive", "Adhesive", "Film whose out-time or shelf life runs out, or that may not be used."),
    ("oven stops", "The oven may not be used", "No cure in it would count until this is done and entered."),
    ("gauges stop", "Gauges not to be used", "What is measured with them proves nothing."),
    ("drawings", "Drawings to approve", "No blade is begun to a revision before a second person has approved it."),
    ("cures", "Cures not yet judged", "A bad run is found before the next one is made the same way."),
    ("held", "Blades held", "A person with design authority, who did not make the part, decides."),
    ("rejected", "Blades rejected", "They stay in the shop until their serial is closed."),
    ("judge", "Blades to judge", "What is on file says more than their verdict."),
    ("weigh again", "Sets to weigh again", "Trim weight does its work only when a rig has shown it."),
    ("sign out", "Sets to sign out", "Formed, and waiting for a person who releases them."),
    ("mates", "Blades waiting for a mate", "Accepted, and in no set."),
    ("short", "Blades short of a proof", "A missing record counts as the worst case."),
    ("soon", "Due soon", "Within a month."),
    ("material", "Other material going out of date", "An expired lot is not built in."),
    ("people", "Authorisations that end", "Who may do what, and until when."),
)

#: without these on file nobody can be warned
_LOOKED_FOR: Final = (OVEN, CALIBRATION, RULE, ROLL, GAUGE)


@dataclass(frozen=True, slots=True)
class WaitingWork:
    """Everything that waits at a moment; groups with nothing in them are left out."""

    as_of: datetime.datetime
    groups: tuple[Group, ...]
    not_kept: tuple[str, ...] = ()  # kinds of shop files nobody has kept yet, so that nothing of them can be waited for
    note: str = ""  # what was not looked at

    @property
    def count(self) -> int:
        """How many things wait."""
        return sum(group.count for group in self.groups)

    def of(self, person: str) -> "WaitingWork":
        """What one person may do of it, among what is told one by one."""
        groups = []
        for group in self.groups:
            lines = tuple(line for line in group.lines if person in line.who)
            if lines:
                groups.append(Group(group.title, group.means, sum(line.holds for line in lines), lines))
        return WaitingWork(self.as_of, tuple(groups), self.not_kept, self.note)

    @property
    def first(self) -> Waiting | None:
        """The one thing to do first."""
        return self.groups[0].lines[0] if self.groups else None


def waiting_work(now: datetime.datetime, running: Sequence[CureRunning] = ()) -> WaitingWork:
    """What waits, for whom, and the one next action of each; ``running`` are the cures in the oven now."""
    day = opened().day(now)
    lately = day - datetime.timedelta(days=AHEAD)
    on_shelf, held = shelf(lately), held_since(lately)
    blades = sorted_blades()
    oven_stops, oven_soon = shop.oven_dues(now, on_shelf)
    gauges_stop, gauges_soon = shop.gauge_dues(now, on_shelf)
    weigh, sign_out = shop.open_sets(blades.in_sets, blades.stale_in_sets)
    found: dict[str, tuple[int, tuple[Found, ...]]] = {
        "running": _all(shop.running_cures(running)),
        "unread": _all(shop.files_unread(on_shelf)),
        "adhesive": _all(shop.adhesive_waits(now, on_shelf)),
        "oven stops": _all(oven_stops),
        "gauges stop": _all(gauges_stop),
        "drawings": _all(shop.drawings_to_approve()),
        "cures": blades.cures,
        "held": blades.held,
        "rejected": blades.rejected,
        "judge": blades.to_judge,
        "weigh again": _all(weigh),
        "sign out": _all(sign_out),
        "mates": blades.accepted,
        "short": blades.short,
        "soon": _all((*oven_soon, *gauges_soon)),
        "material": _all(shop.other_material(now)),
        "people": _all(shop.authorisations_ending(held, now)),
    }
    lines = told([line for _, lines in found.values() for line in lines], people_by_scope(held, day))
    groups = [
        Group(title, means, found[key][0], tuple(lines[line] for line in found[key][1]))
        for key, title, means in _IN_ORDER
        if found[key][0]
    ]
    more = (
        f"More than {LOOKED_AT:,} blades are open; the {LOOKED_AT:,} longest open were looked at."
        if blades.more
        else ""
    )
    not_kept = tuple(kind for kind in _LOOKED_FOR if kind not in on_shelf)
    return WaitingWork(now, tuple(groups), not_kept, more)


def _all(found: tuple[Found, ...]) -> tuple[int, tuple[Found, ...]]:
    return len(found), found[:SHOWN]
