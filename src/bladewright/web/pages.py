"""The places of the desk, in the order they stand at the top of each page. A new one is a module and a line here."""

from dataclasses import dataclass
from typing import Final


@dataclass(frozen=True, slots=True)
class Place:
    """A module of views with its ``urls``; with words, it is shown at the top and opens at its ``name``."""

    module: str
    words: str = ""
    name: str = ""


PLACES: Final = (
    Place("waiting", "Waiting work", "waiting"),
    Place("blades", "Blades", "blades"),
    Place("blade"),
    Place("blade_evidence"),
    Place("drawing", "Drawings", "drawings"),
    Place("oven", "Oven", "oven"),
    Place("oven_runs"),
    Place("oven_growing"),
    Place("oven_questions"),
    Place("coupon", "Coupons", "coupons"),
    Place("sets", "Sets", "sets"),
    Place("one_set"),
    Place("trace", "Trace", "trace"),
    Place("materials", "Materials", "materials"),
    Place("shelf", "Gauges and files", "shelf"),
    Place("people", "People", "people"),
    Place("own"),
    Place("entering"),
    Place("finding"),
    Place("preferences"),
    Place("programs"),
)

#: what is shown at the top of every page
SHOWN: Final = tuple(place for place in PLACES if place.words)
