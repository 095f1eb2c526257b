"""The hash that names evidence, against the worked examples of the standard."""

from functools import partial

from bladewright.figures import digest
from bladewright.selfcheck.case import Case

_SOURCE = "NIST, FIPS 180-4, Secure Hash Standard, 2015, SHA-256 examples (seen in several open test files)"
_LEADING = 13  # hex digits, 52 bits: as many as a float holds exactly
_EXAMPLES = {
    "the empty message": (b"", "e3b0c44298fc1"),
    "abc": (b"abc", "ba7816bf8f01c"),
    "a million a": (b"a" * 1_000_000, "cdc76e5c9914f"),
}


def _leading(message: bytes) -> float:
    return float(int(digest(message)[:_LEADING], 16))


CASES: tuple[Case, ...] = tuple(
    Case(
        _SOURCE,
        f"first 52 bits of SHA-256 of {name} as a number [1]",
        partial(_leading, message),
        float(int(published, 16)),
        0.5,
        "exact: every bit must agree",
    )
    for name, (message, published) in _EXAMPLES.items()
)
