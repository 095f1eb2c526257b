"""Which dimension moves which answer most."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.sensitivity import Ranking, Sensitivity

SHOWN = 12  # the strongest of each answer; programs get them all


def sensitivities(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    json: showing.Json = False,
) -> None:
    """What each drawn dimension does to handle force, coning and track, ranked by the effect of its own tolerance.

    Example: **bladewright sensitivities fm31.toml**
    """
    from bladewright.design.sensitivity import sensitivities as found
    from bladewright.drawing.file import read_drawing

    answer = found(read_drawing(drawing))
    if json:
        showing.as_json(
            {
                "answers": [_as_json(ranking) for ranking in answer.rankings],
                "not moved": [{"field": field, "reason": reason} for field, reason in answer.unmoved],
            }
        )
        return
    for ranking in answer.rankings:
        _print(ranking)
    for field, reason in answer.unmoved:
        showing.lines(f"not moved: {field}: {reason}")
    showing.lines("An estimate until flown. " + showing.CAUTION)


def _print(ranking: "Ranking") -> None:
    from bladewright.figures import in_both_units

    rows = [_row(row) for row in ranking.rows[:SHOWN]]
    showing.table(
        ("dimension", "drawn", "moved by", "because of", "effect"), rows, f"{ranking.answer.name}: {ranking.answer}"
    )
    showing.lines(f"{ranking.together.name}: +/- {in_both_units(ranking.together)} ({ranking.together.method})")


def _row(row: "Sensitivity") -> tuple[str, ...]:
    from bladewright.drawing.words import in_words, shown_in
    from bladewright.figures import in_both_units

    step = row.step
    effect = in_both_units(row.effect)
    return (
        in_words(step.field),
        shown_in(step.drawn, step.kind),
        shown_in(step.by, step.kind),
        step.reason,
        effect if row.smooth else f"{effect}; NOT SMOOTH: two step sizes disagree by {row.disagreement:.0%}",
    )


def _as_json(ranking: "Ranking") -> dict[str, object]:
    from bladewright.units import si_unit

    return {
        "answer": showing.figures_as_json([ranking.answer]),
        "together": showing.figures_as_json([ranking.together]),
        "dimensions": [
            {
                "field": row.step.field,
                f"drawn [{si_unit(row.step.kind)}]": row.step.drawn,
                f"moved by [{si_unit(row.step.kind)}]": row.step.by,
                "reason": row.step.reason,
                f"slope [{row.slope_unit}]": row.slope,
                "effect": showing.figures_as_json([row.effect]),
                "smooth": row.smooth,
                "disagreement [1]": row.disagreement,
            }
            for row in ranking.rows
        ],
    }
