"""What a drawing leaves out, and which answers wait for it."""

from bladewright.drawing.file import BladeDrawing
from bladewright.figures import Missing

#: answer -> entries it needs, as dotted fields of the drawing
NEEDS: dict[str, tuple[str, ...]] = {
    "mass, centres and stiffness of the blade": ("spar", "adhesive"),
    "mass and product of inertia at the root": ("doubler",),
    "mass and centres with the tip weight": ("tip_weight",),
    "mass of the paint": ("finish",),
    "section moment of the reflexed section": ("reflex",),
    "judgement of the reflex": ("reflex.tolerance",),
    "peel locked in by a loose skin that is not the mould's": (
        "reflex.loose_skin",
        "reflex.mould",
        "reflex.loose_to_mould_limit",
    ),
    "spar machining": ("spar.extrusion_allowance", "spar.tolerance"),
    "hover and collective handle force": ("rotor", "rotor.control"),
    "moment of the mass offset with coning": ("rotor.precone",),
    "friction band of the handle force": ("rotor.control.friction",),
    "handle force with a trim spring": ("rotor.control.trim_spring",),
    "lever at lowest collective": ("rotor.collective_least", "rotor.speeds.power_off_greatest"),
    "handle force at never-exceed speed": ("rotor.never_exceed_speed", "rotor.drag_area"),
    "power margin in the hover": ("rotor.power_available", "rotor.power_with_height"),
    "direction of a track split": ("rotor.control.stiffness_low", "rotor.control.stiffness_high"),
    "judgement of a set's handle force": ("rotor.handle_band",),
    "modes with a soft and a stiff control run": ("rotor.control.stiffness_low", "rotor.control.stiffness_high"),
    "modes over the whole range of rotor speeds": (
        "rotor.speeds.power_on_least",
        "rotor.speeds.power_on_greatest",
        "rotor.speeds.power_off_least",
        "rotor.speeds.power_off_greatest",
    ),
    "margin a mode keeps from a harmonic, other than the usual 10 %": ("rotor.frequency_margin",),
    "response to the air's harmonics": ("rotor.structural_damping",),
    "droop at rest against its stop": ("rotor.droop_stop",),
    "coning against the flap stop": ("rotor.precone", "rotor.flap_stop"),
    "flutter with slack in the control run": ("rotor.control.backlash",),
    "judgement of flutter and divergence": ("limits.flutter",),
    "judgement of a cure": ("limits.cure",),
    "judgement of the peel coupon": ("limits.peel",),
    "judgement of the weighing": ("limits.weighing",),
    "matching": ("limits.match",),
    "limit and ultimate loads": ("rotor", "loads"),
    "overspeed case": ("rotor.speeds.power_off_greatest", "loads.overspeed_factor"),
    "gust case": ("loads.gust_speed", "rotor.never_exceed_speed"),
    "autorotation flare case": ("loads.flare_factor",),
    "start-up case": ("loads.start_torque",),
    "droop-stop case": ("loads.droop_stop_factor",),
    "grip bolts": ("doubler.bolts", "doubler.bolt"),
    "tip weight held by its bond alone": ("tip_weight.bond_area",),
    "tip weight held by its bolts alone": ("tip_weight.bolts",),
    "bond lines in every state the blade meets": (
        "adhesive.allowables.hot_wet",
        "adhesive.allowables.cold",
        "adhesive.allowables.sustained",
    ),
    "bond line of another thickness": ("adhesive.allowables.thickness_curve",),
    "life": ("flight_profile", "fatigue"),
    "inspection interval": ("limits.damage.detectable_crack", "limits.damage.interval_factor"),
    "judgement of a nick, a dent or a void": ("limits.damage.zones",),
    "trim weight": ("trim.pockets",),
    "plan of a cure": (
        "limits.cure",
        "oven",
        "oven.room",
        "limits.cure.sensor_uncertainty",
        "limits.cure.overshoot_greatest",
        "limits.cure.heater_greatest",
        "limits.cure.cool_greatest",
        "limits.cure.release",
    ),
    "degree of cure of the film": ("adhesive.kinetics", "limits.cure.degree_of_cure_least"),
    "what a fault in the cure took": (
        "adhesive.kinetics",
        "oven",
        "oven.room",
        "schedule",
        "limits.cure.sensor_uncertainty",
    ),
    "pressure against the gel of the film": ("adhesive.kinetics.gel",),
    "whether a second dwell may be done": ("adhesive.kinetics.second_dwell_longest",),
    "what a measured glass transition would settle": ("adhesive.kinetics.glass_transition",),
    "judgement of adhesive out-time": ("adhesive.out_time_limit_hours",),
}


def what_is_missing(drawing: BladeDrawing) -> tuple[Missing, ...]:
    """Every answer that waits for an entry, with the outermost entry that is not there."""
    found = []
    for answer, entries in NEEDS.items():
        gaps = dict.fromkeys(gap for entry in entries if (gap := _gap(drawing, entry)))
        if gaps:
            found.append(Missing(answer, tuple(gaps)))
    return tuple(found)


def _gap(drawing: BladeDrawing, entry: str) -> str:
    """The outermost part of a dotted field that is not entered; empty where all is there."""
    value: object = drawing
    path = entry.split(".")
    for depth, name in enumerate(path, start=1):
        value = getattr(value, name)
        if value is None or value in ((), {}):
            return ".".join(path[:depth])
    return ""
