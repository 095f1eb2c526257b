"""Fan plots of both patterns: modes as lines, harmonics as rays, rotor speeds shaded, what is too near marked."""

from collections.abc import Iterator

import numpy as np

from bladewright.design.control_runs import RPM
from bladewright.design.fans import Fan, nearest_approaches
from bladewright.design.frequencies import ALIKE, Frequencies
from bladewright.design.section_charts import plain
from bladewright.engine.arrays import Floats
from bladewright.engine.dynamics.blade_beam import Pattern
from bladewright.figures import Axis, Chart, Curve, Reach

HERTZ = 1.0 / (2.0 * np.pi)
SAME = 0.01  # of a frequency: two control runs whose mode differs by less share one line
ABOVE = 1.02  # of the highest ray: modes above it are not drawn
SPEED, FREQUENCY = Axis("rotor speed", "rpm"), Axis("frequency", "Hz")
NOTE = (
    "Each mode against the harmonics that can excite it, at the lowest collective; the highest is judged too. The "
    "first flap mode once per rev is the disc's own tilt and is not judged. Marked: where a mode is nearest to a "
    "harmonic that it comes nearer than the margin in the shaded ranges. A mode is named by what it mostly is at "
    "normal rotor speed; where two come close they trade shapes."
)


def fan_charts(found: Frequencies) -> tuple[Chart, ...]:
    """One fan plot for each pattern; none where the fans could not be drawn."""
    return tuple(_chart(found, pattern) for pattern in dict.fromkeys(fan.pattern for fan in found.fans))


def _chart(found: Frequencies, pattern: Pattern) -> Chart:
    lowest = min(fan.pitch for fan in found.fans)
    fans = [fan for fan in found.fans if fan.pattern == pattern and fan.pitch == lowest]
    speeds = fans[0].speeds
    rays = [
        Curve(f"{harmonic} per rev", (0.0, RPM * speeds[-1]), (0.0, HERTZ * harmonic * speeds[-1]), beside=True)
        for harmonic in found.harmonics[pattern]
    ]
    top = ABOVE * HERTZ * max(found.harmonics[pattern]) * speeds[-1]
    drawn = nearest_approaches(fans, found.ranges, found.harmonics, found.margin)
    near = [one for one in drawn if one.gap < found.margin]
    marks = (
        [
            Curve(
                "nearer than the margin",
                tuple(RPM * one.speed for one in near),
                tuple(HERTZ * one.frequency for one in near),
                points=True,
            )
        ]
        if near
        else []
    )
    return Chart(
        name=f"fan-{pattern}",
        title=f"Fan plot, {ALIKE[pattern]}",
        x=SPEED,
        y=FREQUENCY,
        curves=(*rays, *_modes(fans, top), *marks),
        note=NOTE,
        reaches=tuple(Reach(one.words, RPM * one.least, RPM * one.greatest) for one in found.ranges),
    )


def _modes(fans: list[Fan], top: float) -> Iterator[Curve]:
    """One line for each mode, or one for each control run where they differ."""
    for name in dict.fromkeys(name for fan in fans for name in fan.names):
        lines = [(fan, fan.frequencies[:, fan.names.index(name)]) for fan in fans if name in fan.names]
        if all(np.allclose(line, lines[0][1], rtol=SAME, atol=SAME * float(np.max(line))) for _, line in lines):
            yield _line(name, fans[0].speeds, lines[0][1], top)
        else:
            yield from (_line(f"{name}, {fan.control}", fan.speeds, line, top) for fan, line in lines)


def _line(name: str, speeds: Floats, frequencies: Floats, top: float) -> Curve:
    shown = tuple(float(value) if value <= top else None for value in HERTZ * frequencies)
    return Curve(name, plain(RPM * speeds), shown)
