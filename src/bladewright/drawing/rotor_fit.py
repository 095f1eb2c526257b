"""Whether the rotor's speeds go with each other and with the blade's length: a wrong unit shows here."""

import math
from collections.abc import Iterator

from bladewright.drawing.rotor import Rotor
from bladewright.errors import BadInput

SOUND = 340.3  # [m/s] at sea level; ISO 2533:1975 (from memory)
TEETERING = 2  # blades on one see-saw
RPM = 60.0 / (2.0 * math.pi)  # of a radian per second


def rotor_complaints(rotor: Rotor | None, tip: float, file: str) -> Iterator[BadInput]:
    """Speeds outside their own range, and speeds at which the tip [m] or the aircraft outruns sound."""
    if rotor is None:
        return
    if rotor.hub == "teetering" and rotor.blades != TEETERING:
        yield BadInput(
            "a hub that teeters carries two blades", file=file, field="rotor.blades", value=rotor.blades,
            allowed=f"{TEETERING} with a teetering hub", fix="check rotor.hub and rotor.blades",
        )  # fmt: skip
    speeds = rotor.speeds
    least, normal, greatest = speeds.power_on_least, speeds.normal, speeds.power_on_greatest
    if (least is not None and normal < least) or (greatest is not None and normal > greatest):
        ends = (f"{RPM * one:.4g} rpm" for one in (least, greatest) if one is not None)
        yield BadInput(
            "is not between power_on_least and power_on_greatest", file=file, field="rotor.speeds.normal",
            value=f"{RPM * normal:.4g} rpm", allowed=" to ".join(ends), fix="check the units of the rotor speeds",
        )  # fmt: skip
    fastest = SOUND / tip
    for name in type(speeds).model_fields:
        speed = getattr(speeds, name)
        if speed is not None and speed >= fastest:
            yield BadInput(
                "the tip would outrun sound", file=file, field=f"rotor.speeds.{name}", value=f"{RPM * speed:.4g} rpm",
                allowed=f"less than {RPM * fastest:.4g} rpm", fix="check its unit, and that of planform.tip",
            )  # fmt: skip
    forward = rotor.never_exceed_speed
    if forward is not None and forward >= SOUND:
        yield BadInput(
            "the aircraft would outrun sound", file=file, field="rotor.never_exceed_speed",
            value=f"{forward:.4g} m/s", allowed=f"less than {SOUND:g} m/s", fix="check its unit",
        )  # fmt: skip
