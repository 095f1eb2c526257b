"""The guide's own example, an end gauge compared with a standard: five contributions into one uncertainty."""

from bladewright.engine.metrology.combining import Combined, Contribution, combined
from bladewright.selfcheck.case import Case

_SOURCE = "JCGM 100:2008, annex H.1, end gauge (inputs read in quotation, printed results partly from memory)"
_LENGTH = 50.000623e6  # [nm] of the standard
_EXPANSION = 11.5e-6  # [1/K]
_COLDER = 0.1  # [K] mean of the bench below the reference temperature
_NINETY_NINE = 0.99


def _gauge() -> Combined:
    """In nanometres: standard, the comparison's three parts, difference of expansion, difference of temperature."""
    return combined(
        (
            Contribution(25.0, 18),
            Contribution(5.8, 24),
            Contribution(3.9, 5),
            Contribution(6.7, 8),
            Contribution(_LENGTH * _COLDER * 0.58e-6, 50),
            Contribution(_LENGTH * _EXPANSION * 0.029, 2),
        ),
        _NINETY_NINE,
    )


CASES: tuple[Case, ...] = (
    Case(
        _SOURCE, "combined standard uncertainty [nm]", lambda: _gauge().standard, 32.0, 0.5, "printed without decimals"
    ),
    Case(
        _SOURCE, "effective degrees of freedom [1]", lambda: _gauge().freedom, 16.7, 0.1,
        "the guide goes on from 32 nm, already rounded, and from rounded parts",
    ),
    Case(_SOURCE, "coverage factor, 99 % [1]", lambda: _gauge().factor, 2.92, 0.005, "printed to two decimals"),
    Case(_SOURCE, "expanded uncertainty, 99 % [nm]", lambda: _gauge().expanded, 93.0, 0.5, "printed without decimals"),
)  # fmt: skip
