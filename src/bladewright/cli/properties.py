"""What the drawn blade weighs and how stiff it is."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from bladewright.cli import showing

if TYPE_CHECKING:
    from bladewright.design.properties import PartShare


def properties(
    drawing: Annotated[Path, typer.Argument(help="The blade's TOML file.", exists=True, dir_okay=False)],
    at: Annotated[str, typer.Option(help='Radius of the section to show, like "2.5 m".')] = "",
    json: showing.Json = False,
) -> None:
    """Mass, centres, stiffness and inertia of the blade, and of one section with every part's share.

    Examples: **bladewright properties fm31.toml** or **bladewright properties fm31.toml --at "2.5 m"**
    """
    from bladewright.design.properties import blade_properties
    from bladewright.drawing.file import read_drawing
    from bladewright.units import to_si

    answer = blade_properties(read_drawing(drawing), at=to_si(at, "length") if at else None)
    if json:
        showing.as_json(
            {
                "blade": showing.figures_as_json(answer.blade),
                "section": showing.figures_as_json(answer.section),
                "parts": answer.parts,
                "missing": answer.missing,
            }
        )
        return
    showing.figures_table(answer.blade, "The blade")
    showing.figures_table(answer.section, f"The section at {answer.section_radius:g} m")
    showing.table(
        ("part", "material", "mass per length", "share of mass", "centre from the leading edge"),
        [_share(part) for part in answer.parts],
        "Its parts",
    )
    showing.missing_lines(answer.missing)


def _share(part: "PartShare") -> tuple[str, ...]:
    from bladewright.units import written

    return (
        part.part,
        part.material,
        f"{part.mass_per_length:.4g} kg/m",
        written(part.share_of_mass, "%", "fraction", 3),
        written(part.chordwise_centre, "mm", "length", 4),
    )
