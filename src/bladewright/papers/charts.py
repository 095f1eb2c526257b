"""Charts for paper: plain line drawings that read in grey, text as outlines, no date, the same bytes every time."""

import io
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Lock
from typing import Any, Final

import matplotlib as mpl
import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_svg import FigureCanvasSVG
from matplotlib.figure import Figure as Sheet
from numpy.typing import ArrayLike

#: settings are global in the drawing library, and two requests may draw at once
_ONE_AT_A_TIME: Final = Lock()
_LOOK: Final[dict[str, Any]] = {
    "svg.fonttype": "path",
    "svg.hashsalt": "bladewright",
    "font.family": "DejaVu Sans",
    "font.size": 7.0,
    "text.parse_math": False,  # a channel may be called "$T_1$"
    "axes.linewidth": 0.6,
    "axes.labelsize": 7.0,
    "axes.grid": True,
    "axes.axisbelow": True,
    "grid.linewidth": 0.3,
    "grid.color": "0.85",
    "xtick.major.width": 0.5,
    "ytick.major.width": 0.5,
    "xtick.labelsize": 6.5,
    "ytick.labelsize": 6.5,
    "legend.fontsize": 6.2,
    "legend.frameon": False,
    "legend.handlelength": 2.8,
    "lines.linewidth": 0.9,
    "hatch.linewidth": 0.4,
}
#: width of the printed text [in]
PAGE_WIDTH: Final = 176.0 / 25.4
#: line styles told apart without colour: dash pattern and grey
STROKES: Final[tuple[dict[str, Any], ...]] = tuple(
    {"linestyle": style, "color": grey}
    for grey in ("0.0", "0.45")
    for style in ("-", (0, (5, 1.5)), (0, (1.2, 1.2)), (0, (6, 1.5, 1.2, 1.5)), (0, (3, 1, 3, 1, 1, 1)), (0, (9, 2)))
)
METRE_PER_INCH: Final = 0.0254  # exact by definition


@contextmanager
def sheet(height: float) -> Iterator[Sheet]:
    """A page-wide drawing of the given height [in], with the look of our papers."""
    with _ONE_AT_A_TIME, mpl.rc_context():
        mpl.rcdefaults()
        mpl.rcParams.update(_LOOK)  # type: ignore[arg-type]  # its keys are a list of literals
        drawing = Sheet(figsize=(PAGE_WIDTH, height), layout="constrained")
        FigureCanvasSVG(drawing)
        yield drawing


def svg(drawing: Sheet) -> bytes:
    """The drawing as SVG bytes; call inside its ``sheet`` block."""
    out = io.BytesIO()
    drawing.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    return out.getvalue()


def plain_frame(axes: Axes) -> None:
    """Only the axes that carry numbers."""
    axes.spines[["top", "right"]].set_visible(False)


def second_scale(axes: Axes, label: str, scale: float, zero: float = 0.0) -> None:
    """The same axis in another unit, on the right: ``other = scale * (shown - zero)``."""

    def there(shown: ArrayLike) -> Any:
        return (np.asarray(shown, dtype=np.float64) - zero) * scale

    def back(other: ArrayLike) -> Any:
        return np.asarray(other, dtype=np.float64) / scale + zero

    axes.secondary_yaxis("right", functions=(there, back)).set_ylabel(label)


#: a white ground behind words that cross lines
ON_WHITE: Final[dict[str, Any]] = {"facecolor": "1.0", "linewidth": 0.0, "pad": 0.8}
