"""Screens of the drawn skins: widths by hand, what pull and filler do, and how the air is counted."""

from pathlib import Path

import numpy as np
import pytest

from bladewright.design.skin_panels import skin_panels, skin_screens
from bladewright.drawing.blade import Filler
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.engine.structure.section_stress import SectionLoads

FM31 = Path(__file__).parents[2] / "examples" / "fennmark" / "fm31.toml"
DROOP = SectionLoads(flap_moment=20.0)  # [N m] the tip hangs: the bottom is pressed


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(FM31)


def shares(drawing: BladeDrawing, loads: SectionLoads, word: str) -> dict[str, float]:
    found = skin_screens(drawing, 2.0, loads).figures
    return {figure.name.split(",")[0]: figure.value for figure in found if word in figure.name}


def test_a_panel_runs_from_the_web_to_the_seam(drawing: BladeDrawing) -> None:
    top, bottom = skin_panels(drawing, 2.0)
    assert (top.side, bottom.side) == ("top", "bottom")
    # web behind 26 % of 200 mm + 1.5 mm; the seam's film starts at 93 %, and holds where the gap is narrow enough
    assert top.begin == pytest.approx(0.0535, abs=1e-6)
    assert 0.93 * 0.2 <= top.end <= 0.2
    assert top.width == pytest.approx(np.hypot(top.end - top.begin, 0.0135), rel=1e-3)  # it falls 13.5 mm on the way
    assert min(top.rise, bottom.rise) > 3.0 * top.thickness  # arched enough to bulge in two half-waves


def test_droop_presses_the_bottom_and_pull_takes_it_away(drawing: BladeDrawing) -> None:
    hanging = shares(drawing, DROOP, "buckles")
    assert hanging["skin bottom"] > hanging["skin top"]
    twice = shares(drawing, SectionLoads(flap_moment=40.0), "buckles")
    assert twice["skin bottom"] == pytest.approx(2.0 * hanging["skin bottom"])
    pulled = shares(drawing, SectionLoads(pull=30e3, flap_moment=20.0), "buckles")
    assert pulled == {"skin top": 0.0, "skin bottom": 0.0}


def test_the_share_in_compression_is_the_stress_over_the_plates_own(drawing: BladeDrawing) -> None:
    # 4 pi^2 E / (12 (1 - v^2)) (t / b)^2 by hand, against a pure push on the elastic centre: N E / EA everywhere
    young, thin = drawing.materials["skin-sheet"].youngs_modulus, drawing.skin.top_thickness
    assert young is not None
    panel = skin_panels(drawing, 2.0)[0]
    limit = 4.0 * np.pi**2 * young / (12.0 * (1.0 - 0.33**2)) * (thin / panel.width) ** 2
    assert shares(drawing, SectionLoads(pull=-3e3), "buckles")["skin top"] == pytest.approx(
        3e3 * young / 51.55e6 / limit, rel=1e-3
    )


def test_the_air_pulls_with_the_square_of_its_speed_nearly(drawing: BladeDrawing) -> None:
    # at 2 m and 540 rpm with 95 kt: 162 m/s; rho V^2 / sqrt(1 - M^2) by hand
    speed = 540.0 * np.pi / 30.0 * 2.0 + 95.0 * 1852.0 / 3600.0
    pull = 1.225 * speed**2 / np.sqrt(1.0 - (speed / 340.3) ** 2)
    panel = skin_panels(drawing, 2.0)[0]
    young, thin = drawing.materials["skin-sheet"].youngs_modulus, panel.thickness
    assert young is not None
    one = young * thin**3 / (12.0 * (1.0 - 0.33**2)) * (np.pi / panel.width) ** 3
    found = shares(drawing, DROOP, "bulges")
    assert found["skin top"] == pytest.approx(pull / (8.0 * one), rel=1e-3)  # arched: two half-waves


def test_filler_holds_the_skins_between_its_ends(drawing: BladeDrawing) -> None:
    foam = drawing.materials["film-epoxy"].model_copy(update={"youngs_modulus": 60e6, "shear_modulus": 23e6})
    filler = Filler.model_construct(material="foam", front=0.5, back=0.8, inner=1.0, outer=3.5)
    held = drawing.model_copy(update={"filler": filler, "materials": {**drawing.materials, "foam": foam}})
    ends = {(round(panel.begin, 3), round(panel.end, 2)) for panel in skin_panels(held, 2.0)}
    assert {begin for begin, _ in ends} == {0.053, 0.160} or {begin for begin, _ in ends} == {0.054, 0.160}
    assert len(skin_panels(held, 0.5)) == 2
    plain, stiff = shares(drawing, DROOP, "bulges"), shares(held, DROOP, "bulges")
    assert max(stiff.values()) < max(plain.values())


def test_what_is_not_entered_is_named_and_everything_says_screening(drawing: BladeDrawing) -> None:
    found = skin_screens(drawing, 2.0, DROOP)
    assert all("screening" in figure.validity for figure in found.figures)
    assert not any(figure.validated for figure in found.figures)  # the film has no source
    still = skin_screens(drawing.model_copy(update={"rotor": None}), 2.0, DROOP)
    assert [gap.needs for gap in still.missing] == [("rotor",)]
    sheet = drawing.materials["skin-sheet"].model_copy(update={"poisson_ratio": None})
    unknown = skin_screens(
        drawing.model_copy(update={"materials": {**drawing.materials, "skin-sheet": sheet}}), 2.0, DROOP
    )
    assert unknown.figures == ()
    assert unknown.missing[0].needs == ("materials.skin-sheet.poisson_ratio",)
