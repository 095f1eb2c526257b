"""The chain of events: each carries the hash of the one before, so that nothing in between can be changed unseen."""

import datetime
from collections.abc import Mapping

from bladewright.figures import canonical, digest

#: what stands before the first event
START = "0" * 64


def link(previous: str, record: Mapping[str, object]) -> str:
    """SHA-256 of the hash before, as text, followed by the record's canonical JSON (RFC 8785)."""
    return digest(previous.encode("ascii") + canonical(record))


def utc_text(at: datetime.datetime) -> str:
    """A moment as the book writes it: UTC, to the microsecond, always the same length, so that texts sort by time."""
    return at.astimezone(datetime.UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")


def moment(text: str) -> datetime.datetime:
    """The moment written by ``utc_text``."""
    return datetime.datetime.strptime(text, "%Y-%m-%dT%H:%M:%S.%fZ").replace(tzinfo=datetime.UTC)
