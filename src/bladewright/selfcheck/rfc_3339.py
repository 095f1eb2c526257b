"""Time stamps with an offset, against the examples of RFC 3339."""

from functools import partial

from bladewright.evidence.stamps import one_stamp
from bladewright.selfcheck.case import Case

_SOURCE = "G. Klyne and C. Newman, RFC 3339, Date and Time on the Internet: Timestamps, 2002, section 5.8 (from memory)"
_FORMAT = "%Y-%m-%dT%H:%M:%S.%f%z"
#: stamp -> its UTC as the RFC states it, counted in seconds since 1970-01-01T00:00:00Z
_EXAMPLES = {
    "1985-04-12T23:20:50.52Z": 482_196_050.52,
    "1996-12-19T16:39:57-08:00": 851_042_397.0,  # 1996-12-20T00:39:57Z
    "1937-01-01T12:00:27.87+00:20": -1_041_337_172.13,  # 1937-01-01T11:40:27.87Z
}


def _seconds(stamp: str) -> float:
    return one_stamp(stamp, _FORMAT).micros / 1e6


CASES: tuple[Case, ...] = tuple(
    Case(_SOURCE, f"{stamp} since 1970 [s]", partial(_seconds, stamp), published, 1e-6, "kept in microseconds")
    for stamp, published in _EXAMPLES.items()
)
