"""The cast of these tests. All invented; each person may do what the name of the constant says."""

import datetime

from bladewright.records.acts import Act, Scope

OFFICE, RECEIVER, DRAUGHTSMAN, APPROVER = "Orla Desk", "Rafe Dock", "Dunn Board", "Ames Second"
MAKER, INSPECTOR, ENGINEER, MATCHER, RELEASER = "Mott Bench", "Isla Gauge", "Enid Margin", "Pim Twin", "Rhea Gate"
STRANGER = "Nobody Known"

MAY: dict[str, tuple[Scope, ...]] = {
    RECEIVER: (Scope.RECEIVE,),
    DRAUGHTSMAN: (Scope.DRAW,),
    APPROVER: (Scope.APPROVE,),
    MAKER: (Scope.MAKE, Scope.BOND, Scope.CURE),
    INSPECTOR: (Scope.INSPECT, Scope.LOOK_LAST),
    ENGINEER: (Scope.DESIGN,),
    MATCHER: (Scope.MATCH,),
    RELEASER: (Scope.RELEASE,),
}
BEGUN = datetime.datetime(2026, 1, 5, 8, 0, tzinfo=datetime.UTC)
AT = datetime.datetime(2026, 5, 4, 8, 0, tzinfo=datetime.UTC)


def by(person: str, reason: str = "", at: datetime.datetime = AT) -> Act:
    """That person, at the usual moment."""
    return Act(person, at, reason)


def everybody_but(*people: str) -> list[str]:
    """Who may not, when only ``people`` may; the one who administers the book and the one nobody knows included."""
    return [name for name in (*MAY, OFFICE, STRANGER) if name not in people]
