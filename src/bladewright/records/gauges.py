"""A gauge's calibration entered by hand, as the file the shop would have kept."""

import datetime

from bladewright.evidence.gauge_file import Found, gauge_bytes
from bladewright.records.acts import Act
from bladewright.records.authority import require
from bladewright.records.shop_files import ShopFileLine, keep_given
from bladewright.records.shop_kinds import GAUGE, KINDS, Given


def keep_calibrated(
    act: Act,
    gauge: str,
    measures: str,
    calibrated_on: datetime.date,
    due: datetime.date,
    found: Found,
    *,
    by: str = "",
    set_aside: bool = False,
) -> ShopFileLine:
    """Enter what a calibration found. ``by``: who did it; left out, the person acting."""
    kind = KINDS[GAUGE]
    require(act, *kind.needs)
    data = gauge_bytes(gauge, measures, calibrated_on, due, by or act.by, found, set_aside=set_aside)
    return keep_given(act, kind, Given(f"{gauge.replace('/', '-')}.toml", data))
