"""Pictures of the flutter margin: over the rotor speed as drawn, and of every state the blade may get into."""

from bladewright.design.control_runs import RPM
from bladewright.design.flutter_margin import MILLI, FlutterMargin, MarginCase
from bladewright.figures import Axis, Bars, Chart, Curve, Level

AFT = Axis("how far aft the mass centre may move", "mm")
SHOWN = 40.0  # [mm] beyond it nobody builds a blade, and the near lines could not be told apart
NOTE = (
    "Each line: where a motion begins, the blade as drawn. A gap: nothing begins, or further aft than is shown. "
    "A screen of a stiff blade; what the worst of all comes to stands in the table of margins."
)


def flutter_charts(found: FlutterMargin) -> tuple[Chart | Bars, ...]:
    """The margin over rotor speed and the margin of every state; none where there is no margin to draw."""
    if not found.cases:
        return ()
    return _over_speed(found), _of_states(found)


def _over_speed(found: FlutterMargin) -> Chart:
    drawn = [case for case in found.cases if case.name == found.cases[0].name]
    curves = [curve for case in drawn for curve in _lines(case)]
    levels = (Level("asked for", MILLI * found.asked),) if found.asked is not None else ()
    title = "Flutter and divergence over rotor speed, as drawn"
    return Chart("flutter-speed", title, Axis("rotor speed", "rpm"), AFT, tuple(curves), levels, NOTE)


def _lines(case: MarginCase) -> list[Curve]:
    """One line for each control run and motion that begins anywhere within what is shown."""
    lines: dict[str, list[tuple[float, float | None]]] = {}
    for onset in case.onsets:
        aft = None if onset.offset is None else MILLI * (onset.offset - case.offset)
        shown = aft if aft is not None and aft <= SHOWN else None
        lines.setdefault(f"{onset.motion}, {onset.control}", []).append((RPM * onset.speed, shown))
    return [
        Curve(name, tuple(x for x, _ in points), tuple(y for _, y in points))
        for name, points in lines.items()
        if any(y is not None for _, y in points)
    ]


def _of_states(found: FlutterMargin) -> Bars:
    rows = [
        (f"{case.name}, {'in the slack' if case.slack else 'held'}", MILLI * case.aft)
        for case in found.cases
        if case.aft is not None
    ]
    note = "The worst rotor speed and control run of each state. Below zero the motion has begun."
    return Bars("flutter-states", "What service does to the flutter margin", AFT, tuple(rows), note)
