"""What a drawing says about matching, gathered into the terms its blades are held to."""

import numpy as np

from bladewright.design.spanwise import spanwise
from bladewright.design.track import track_model
from bladewright.drawing.file import BladeDrawing
from bladewright.errors import MissingInput
from bladewright.pairing.records import Balance
from bladewright.pairing.terms import Aircraft, Places, Terms


def terms_of(drawing: BladeDrawing) -> Terms:
    """Everything the drawing says about matching; ``MissingInput`` where it says nothing of how alike mates must be."""
    if drawing.limits.match is None:
        raise MissingInput(
            "no limits are entered for matching",
            field="limits.match",
            allowed="how alike the blades of a set must be",
            fix="enter limits.match in the drawing",
        )
    rotor = drawing.rotor
    return Terms(
        limits=drawing.limits.match,
        handle_band=rotor.handle_band if rotor else None,
        friction=rotor.control.friction if rotor and rotor.control else None,
        places=Places(drawing.trim.pockets, balance_of(drawing), drawing.limits.weighing),
        rotor_speed=rotor.speeds.normal if rotor else None,
        track=track_model(drawing),
        aircraft=Aircraft(rotor.gross_mass, drawing.planform.tip, rotor.blades) if rotor else None,
    )


def balance_of(drawing: BladeDrawing) -> Balance | None:
    """What it takes to know how far a trim weight moves the mass centre; None where the drawing does not tell."""
    pockets = drawing.trim.pockets
    if not pockets:
        return None
    try:
        along = spanwise(drawing)
    except MissingInput:
        return None
    chord = float(np.mean(np.interp([pocket.radius for pocket in pockets], along.y, along.chord)))
    return Balance(along.total_mass, along.chordwise_centre, chord, drawing.planform.feathering_axis)
