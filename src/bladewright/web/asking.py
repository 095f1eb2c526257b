"""Who asks: a request as the desk's views get it."""

from django.http import HttpRequest
from django_htmx.middleware import HtmxDetails

from bladewright.records.acts import Scope


class DeskRequest(HttpRequest):
    """A request with its person (empty: nobody), what they may do today, and how they want to see it."""

    person: str
    may: frozenset[Scope]
    system: str  # "metric" or "inch"
    theme: str  # "", "light" or "dark"
    htmx: HtmxDetails
