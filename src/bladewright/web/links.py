"""Where a thing of the shop is shown on the desk; what has no page of its own is looked up by its name."""

from typing import Final

from django.urls import NoReverseMatch, reverse

#: kind -> name of the address that shows it
_PAGE_OF: Final = {
    "blade": "blade", "run": "cure", "set": "set", "roll": "lot", "lot": "lot", "drawing": "drawing",
    "growing": "growing", "person": "person",
}  # fmt: skip
#: kinds that are all shown on one page
_ONE_PAGE: Final = {"oven": "oven", "sets": "sets", "gauge": "shelf"}


def to_place(kind: str, *names: str) -> str:
    """The address of a thing by its names; of nothing, nothing."""
    if not names[0]:
        return ""
    try:
        if kind == "trace":
            return reverse("trace", query={"of": names[0]})
        if kind == "shelf":
            return reverse("shelf-one", args=names[:1], query={"about": names[1]})
        return reverse(_ONE_PAGE[kind]) if kind in _ONE_PAGE else reverse(_PAGE_OF[kind], args=names)
    except NoReverseMatch:
        return reverse("find", query={"text": names[0]})
