"""The oven from its survey: the true one found within its uncertainty, and what a survey leaves out said."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from bladewright.design.cure_model import oven_known
from bladewright.design.oven_fit import FittedSurvey, fit_oven, survey_of
from bladewright.drawing.cure_entries import OvenEntries
from bladewright.drawing.file import BladeDrawing, read_drawing
from bladewright.drawing.oven import oven_file, parse_oven
from bladewright.engine.cure.oven import COUNTS
from bladewright.errors import BadInput, MissingInput
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import read_logger_description
from bladewright.evidence.records import CureLog
from examples.fennmark.survey import survey_text, true_oven, write_survey

EXAMPLES = Path(__file__).parents[2] / "examples" / "fennmark"
SENSOR = 0.3  # [K] expanded; the demonstration's noise is 0.1 K and its readings are written to 0.01 degF


@pytest.fixture(scope="module")
def drawing() -> BladeDrawing:
    return read_drawing(EXAMPLES / "fm31.toml")


@pytest.fixture(scope="module")
def log(tmp_path_factory: pytest.TempPathFactory) -> CureLog:
    path = write_survey(tmp_path_factory.mktemp("survey"))
    return read_cure_log(path, read_logger_description(EXAMPLES / "survey-logger.toml"))


@pytest.fixture(scope="module")
def entered(drawing: BladeDrawing) -> OvenEntries:
    assert drawing.oven is not None
    return drawing.oven


@pytest.fixture(scope="module")
def fitted(entered: OvenEntries, log: CureLog) -> FittedSurvey:
    return fit_oven(entered, log, SENSOR)


def without(log: CureLog, *roles: str) -> CureLog:
    """The log without the columns of some roles."""
    kept = [number for number, channel in enumerate(log.channels) if channel.role not in roles]
    return replace(log, channels=tuple(log.channels[k] for k in kept), values=log.values[:, kept])


def test_the_survey_is_the_same_every_time(drawing: BladeDrawing) -> None:
    assert survey_text(drawing) == survey_text(drawing)


def test_the_true_oven_lies_within_the_uncertainty_of_the_fitted_one(
    fitted: FittedSurvey, drawing: BladeDrawing
) -> None:
    entered, true = drawing.oven, true_oven(drawing)
    assert entered is not None
    inside = []
    for figure in fitted.factors:
        name, _, zone = figure.name.partition(" ")
        begun = np.broadcast_to(np.atleast_1d(getattr(entered.oven, name)), COUNTS[name])
        factor = getattr(true, name)[int(zone) - 1] / begun[int(zone) - 1]
        assert figure.uncertainty is not None
        inside.append(abs(np.log(factor / figure.value)) <= np.log1p(figure.uncertainty / figure.value))
    assert len(inside) == sum(COUNTS.values()) - COUNTS["greatest_power"]
    assert np.mean(inside) >= 0.85  # 95 % are expected; 48 of them scatter
    assert fitted.driven_by == "power"
    assert fitted.misfit.value < 0.2


def test_what_a_survey_teaches_makes_the_oven_better_known(fitted: FittedSurvey, entered: OvenEntries) -> None:
    before, after = (np.sqrt(np.diagonal(oven_known(one).covariance)) for one in (entered, fitted.entries))
    assert np.median(after) < 0.5 * np.median(before)


def test_a_fitted_oven_is_the_same_after_it_was_written_and_read(fitted: FittedSurvey) -> None:
    data = oven_file("fitted", fitted.entries)
    again = parse_oven(data, "oven.toml")
    for name in COUNTS:
        np.testing.assert_allclose(getattr(again, name), getattr(fitted.entries, name), rtol=1e-8)
    assert again.fit is not None
    assert fitted.entries.fit is not None
    assert again.fit.covariance == fitted.entries.fit.covariance
    assert again.fit.survey_sha256 == fitted.entries.fit.survey_sha256
    assert len(again.fit.survey_sha256) == 64


def test_without_probes_what_lies_between_the_halves_is_hardly_told(
    fitted: FittedSurvey, entered: OvenEntries, log: CureLog
) -> None:
    blind = fit_oven(entered, without(log, "bondline"), SENSOR)
    assert {f"mould_to_bondline {zone}" for zone in range(1, 7)} <= set(blind.not_told)
    for with_probes, without_them in zip(fitted.factors, blind.factors, strict=True):
        assert without_them.uncertainty is not None
        assert with_probes.uncertainty is not None
        if "bondline" in with_probes.name:
            assert without_them.uncertainty > 0.98 * with_probes.uncertainty


def test_without_power_the_heaters_drive_it(entered: OvenEntries, log: CureLog) -> None:
    assert fit_oven(entered, without(log, "power"), SENSOR).driven_by == "the heaters' temperatures"


def test_what_a_survey_must_have_is_named(entered: OvenEntries, log: CureLog) -> None:
    with pytest.raises(MissingInput) as driven:
        fit_oven(entered, without(log, "power", "heater"), SENSOR)
    assert driven.value.field == "columns.role power"
    with pytest.raises(MissingInput) as mould:
        survey_of(without(log, "mould"), 294.0)
    assert mould.value.field == "columns.role mould"
    with pytest.raises(MissingInput) as scatter:
        fit_oven(entered.model_copy(update={"scatter": None}), log, SENSOR)
    assert scatter.value.field == "oven.scatter"


@pytest.mark.parametrize(
    ("zone", "what"), [("2", "is there twice"), ("9", "the mould columns do not name each of their zones")]
)
def test_zones_that_are_not_the_six_are_refused(log: CureLog, zone: str, what: str) -> None:
    wrong = replace(log, channels=(replace(log.channels[0], zone=zone), *log.channels[1:]))
    with pytest.raises(BadInput) as refused:
        survey_of(wrong, 294.0)
    assert (refused.value.what, refused.value.field) == (what, "columns.zone")
