"""Who may do what on a day, by name: so that a page can say whom to ask."""

import datetime
from collections import defaultdict
from collections.abc import Iterable, Mapping

from bladewright.records.acts import Scope
from bladewright.records.authority import standing

Holders = Mapping[Scope, tuple[str, ...]]


def holders(day: datetime.date) -> Holders:
    """Everybody's authorisations on this day, by what they are for."""
    found: dict[Scope, list[str]] = defaultdict(list)
    rows = standing(day).order_by("person__name").values_list("scope", "person__name").distinct()
    for scope, name in rows:
        found[Scope(scope)].append(name)
    return {scope: tuple(names) for scope, names in found.items()}


def any_of(held: Holders, needs: Iterable[Scope]) -> tuple[str, ...]:
    """Who holds any one of these, each once."""
    return tuple(dict.fromkeys(name for need in needs for name in held.get(need, ())))
