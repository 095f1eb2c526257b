"""The signed records of one blade: the proofs that people put their name to because no program computes them."""

from dataclasses import dataclass

from examples.fennmark import people
from examples.fennmark.lots import Use
from examples.fennmark.story import BEGUN, FINISHED, TORN, Blade

HOURS_ALREADY, HOURS_A_BLADE, HOURS_LIMIT = 20, 9, 240  # [h] a roll is out of the freezer


@dataclass(frozen=True, slots=True)
class _Entry:
    """Who signs what, so many working days after the cure."""

    by: str
    days: int
    statement: str
    details: dict[str, str]


def signed_records(blade: Blade, run: int, lots: tuple[Use, ...], laid_up_before: int) -> dict[str, str]:
    """Proof -> the file's text. ``laid_up_before`` counts the blades the adhesive roll was out for already."""
    lot = {use.part: use.lot for use in lots}
    roll, hours = lot["adhesive"], HOURS_ALREADY + HOURS_A_BLADE * laid_up_before
    entries = {
        "material lots": _Entry(
            people.RECEIVER,
            BEGUN,
            "Certificates of all lots compared with the drawing; all within date.",
            {part.replace(" ", "_"): number for part, number in lot.items()},
        ),
        "adhesive out-time": _Entry(
            people.RECEIVER,
            0,
            f"Roll {roll} was out for {hours} h of {HOURS_LIMIT} h before this lay-up; warmed through, then opened.",
            {"roll": roll, "hours_out": f"{hours} h", "hours_left": f"{HOURS_LIMIT - hours} h"},
        ),
        "surface treatment": _Entry(
            people.MAKER,
            -1,
            "Skins and spar cleaned, etched and primed to sheet FP-3; water film unbroken for 60 s.",
            {"batch": f"T-{run}", "witness_panel": f"T-{run}-W, wedge kept"},
        ),
        "lay-up": _Entry(
            people.MAKER,
            0,
            "Film laid to sheet FP-6, backing counted off, spar seated on both stops.",
            {"room": "20 degC, 46 % relative humidity", "backing_pieces": "6 of 6"},
        ),
        "retained coupon": _Entry(
            people.INSPECTOR,
            TORN,
            "Tip coupon labelled and kept in rack 3.",
            {"label": f"{blade.serial} tip"},
        ),
        "void map": _Entry(
            people.INSPECTOR,
            3,
            "Whole span tapped, both faces, on a grid of 1 in; no void found.",
            {"grid": "1 in"},
        ),
        "hole positions": _Entry(
            people.INSPECTOR,
            5,
            "Three grip holes within 0.1 mm of the drawing on the plate gauge.",
            {"gauge": "plate G-2"},
        ),
        "final inspection": _Entry(
            people.INSPECTOR,
            FINISHED,
            "Outside, ends, seals, labels and paint looked over; nothing found.",
            {"sheet": "FP-14"},
        ),
    }
    return {proof: _text(blade, proof, entry) for proof, entry in entries.items()}


def _text(blade: Blade, proof: str, entry: _Entry) -> str:
    return "\n".join(
        [
            "format = 1",
            f'serial = "{blade.serial}"',
            f'proof = "{proof}"',
            'result = "conforms"',
            f'statement = "{entry.statement}"',
            f'signed_by = "{entry.by}"',
            f"signed_on = {blade.working_day(entry.days)}",
            "",
            "[details]",
            *(f'{name} = "{value}"' for name, value in entry.details.items()),
            "",
        ]
    )
