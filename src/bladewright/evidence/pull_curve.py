"""A pull curve through its pull description: travel and force in SI, in the order they were logged."""

from pathlib import Path

import numpy as np

from bladewright import units
from bladewright.errors import BadInput
from bladewright.evidence.cells import Cells, Wanted, read_cells
from bladewright.evidence.complaints import raise_if_any
from bladewright.evidence.description import PullDescription, QuantityForm
from bladewright.evidence.files import as_utf8, opened
from bladewright.evidence.records import Floats, PullCurve
from bladewright.evidence.table import check_unit, columns_complaints, index_of, locate


def read_pull_curve(curve: Path | bytes, description: PullDescription, file: str = "") -> PullCurve:
    """The curve, or ``BadInput`` / ``SeveralBadInputs`` with every bad cell: all or nothing."""
    data, source = opened(curve, file)
    table = locate(as_utf8(data, description.file, source.file), description, source.file)
    forms = (description.travel, description.force)
    places = tuple(
        index_of(form.column, table, f"{name}.column", source.file)
        for name, form in zip(("travel", "force"), forms, strict=True)
    )
    complaints = columns_complaints(places, (), table, description, source.file)
    for form, place, kind in zip(forms, places, ("length", "force"), strict=True):
        if wrong := check_unit(place, form.unit, kind, form.unit_label, table, source.file):
            complaints.append(wrong)
    raise_if_any(complaints, source.file)
    cells = read_cells(
        table, Wanted(places, (), description.missing, description.file.decimal_mark), source.file, complaints
    )
    complaints.extend(
        BadInput(
            "has no reading",
            file=source.file,
            row=int(cells.rows[row]),
            column=table.names[places[column]],
            allowed="travel and force in every row",
            fix="a peel curve with a hole cannot be averaged: tear another coupon, or take the row out with a reason",
        )
        for row, column in np.argwhere(np.isnan(cells.numbers))
        if not complaints
    )
    raise_if_any(complaints, source.file)
    with np.errstate(over="ignore"):
        travel, force = _in_si(cells, forms)
    complaints.extend(
        BadInput(
            "is too large",
            file=source.file,
            row=int(cells.rows[row]),
            column=table.names[place],
            allowed="a finite travel and force",
            fix="check the cell and the unit",
        )
        for place, values in zip(places, (travel, force), strict=True)
        for row in np.flatnonzero(np.isinf(values))
    )
    raise_if_any(complaints, source.file)
    return PullCurve(source, travel, force, cells.rows, table.remarks)


def _in_si(cells: Cells, forms: tuple[QuantityForm, ...]) -> tuple[Floats, Floats]:
    """Travel and force as declared."""
    travel, force = (
        cells.numbers[:, i] * units.scale_and_zero(form.unit, kind)[0] * (-1.0 if form.sign == "reversed" else 1.0)
        for i, (form, kind) in enumerate(zip(forms, ("length", "force"), strict=True))
    )
    return travel, force
