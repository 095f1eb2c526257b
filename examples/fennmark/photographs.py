"""Photographs of torn faces, drawn and not taken, with the areas the inspector outlined on them. All invented."""

import struct
import zlib
from pathlib import Path

import numpy as np
import shapely
from numpy.typing import NDArray

from bladewright.evidence.outlined import Corner, Mark, Outline, OutlinedPhotograph, written
from bladewright.evidence.photograph import read_photograph
from bladewright.evidence.records import FailureMode, Source
from examples.fennmark import people
from examples.fennmark.story import TORN, Blade

WIDE, LONG = 25.4, 4100.0 / 25.4  # [mm] one face of a torn coupon
PER_MM, MARGIN = 6.0, 30.0  # [px]
PLACING = 1.2  # [px] what the inspector lands off by when a corner is placed again
PHOTOGRAPHED = ("FM31-0107", "FM31-0109")

Shape = tuple[Corner, ...]  # [mm] along and across the face from its corner
_THIN: Shape = ((20.0, 6.0), (29.0, 5.0), (31.0, 8.0), (27.0, 10.0), (21.0, 9.5))
_BLISTER: Shape = ((40.0, 17.0), (42.0, 16.0), (44.2, 17.2), (44.0, 19.2), (41.8, 20.0), (40.2, 19.0))
_EDGE = ((57.0, 0.0), (66.0, 8.0), (58.0, 16.0), (64.0, WIDE))  # where adhesion failure begins, before it is shifted
#: mean colour and scatter of what is seen: amber film, thin film, bare metal, glossy blister, the bench
_LOOKS: dict[str, tuple[tuple[int, int, int], float]] = {
    "CF": ((196, 146, 74), 16.0), "SCF": ((214, 186, 132), 9.0), "AF": ((190, 196, 202), 7.0),
    "void": ((92, 60, 26), 4.0), "bench": ((70, 74, 72), 3.0),
}  # fmt: skip


def areas_of(blade: Blade, void: float, skin_side: float) -> list[tuple[FailureMode, Shape]]:
    """What is on the top face, in mm^2 as the coupon's file has it: the film all over, the rest upon it."""
    whole: Shape = ((0.0, 0.0), (LONG, 0.0), (LONG, WIDE), (0.0, WIDE))
    found: list[tuple[FailureMode, Shape]] = [
        ("CF", whole), ("SCF", _sized(_THIN, skin_side)), ("void", _sized(_BLISTER, void)),
    ]  # fmt: skip
    if lost := round(blade.adhesion_failure * LONG * WIDE):
        reach = LONG - shapely.Polygon([(LONG, 0.0), *_EDGE, (LONG, WIDE)]).area / WIDE
        shift = LONG - lost / WIDE - reach
        edge = [(along + shift, across) for along, across in _EDGE]
        found.append(("AF", (*edge, (LONG, WIDE), (LONG, 0.0))))
    return found


def write_photograph(folder: Path, blade: Blade, label: str, void: float, skin_side: float) -> tuple[Path, Path]:
    """Writes the picture and the outlines of the top face; gives the outlines first."""
    areas = areas_of(blade, void, skin_side)
    picture = folder / f"{blade.serial}-{label}-top.png"
    picture.write_bytes(_png(_drawn(areas, np.random.default_rng([31, int(blade.serial[-4:]), 7]))))
    outlined = OutlinedPhotograph(
        source=Source("", ""),
        photograph=read_photograph(picture),
        serial=blade.serial,
        label=label,
        face="top",
        named=picture.name,
        outlined_by=people.INSPECTOR,
        outlined_on=blade.working_day(TORN),
        placing=PLACING,
        outline=_placed(areas[0][1]),
        marks=tuple(Mark(WIDE / 1000.0, *_placed(((along, 0.0), (along, WIDE)))) for along in (4.0, LONG - 4.0)),
        areas=tuple(Outline(mode, _placed(shape)) for mode, shape in areas),
    )
    outlines = picture.with_suffix(".toml")
    outlines.write_bytes(written(outlined))
    return outlines, picture


def _sized(shape: Shape, area: float) -> Shape:
    """The same shape about its own middle, of this area."""
    polygon = shapely.Polygon(shape)
    by, middle = float(np.sqrt(area / polygon.area)), polygon.centroid
    return tuple((middle.x + by * (x - middle.x), middle.y + by * (y - middle.y)) for x, y in shape)


def _placed(shape: Shape) -> tuple[Corner, ...]:
    """In pixels of the picture, to the tenth a hand and a screen can place."""
    return tuple((round(MARGIN + PER_MM * along, 1), round(MARGIN + PER_MM * across, 1)) for along, across in shape)


def _drawn(areas: list[tuple[FailureMode, Shape]], rng: np.random.Generator) -> NDArray[np.uint8]:
    """The picture: each area in its look, a grain over all, fibres of the carrier across the torn film."""
    high, wide = round(WIDE * PER_MM + 2 * MARGIN), round(LONG * PER_MM + 2 * MARGIN)
    down, across = np.mgrid[0:high, 0:wide]
    grain = rng.normal(0.0, 1.0, (high, wide))
    grain = 0.5 * (grain + np.roll(grain, 1, axis=0))
    mean, scatter = _LOOKS["bench"]
    image = np.array(mean) + (scatter * grain)[..., None]
    for mode, shape in areas:
        inside = shapely.contains_xy(shapely.Polygon(_placed(shape)), across + 0.5, down + 0.5)
        mean, scatter = _LOOKS[mode]
        weave = 9.0 * (np.sin(across / 5.0) * np.sin(down / 5.0)) if mode == "CF" else 0.0
        image[inside] = (np.array(mean) + (scatter * grain + weave)[..., None])[inside]
    return np.clip(image, 0, 255).astype(np.uint8)


def _png(image: NDArray[np.uint8]) -> bytes:
    """ISO/IEC 15948, true colour, no filter (from memory)."""
    high, wide, _ = image.shape

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    rows = np.concatenate((np.zeros((high, 1), np.uint8), image.reshape(high, -1)), axis=1).tobytes()
    head = struct.pack(">IIBBBBB", wide, high, 8, 2, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(rows, 6)) + chunk(b"IEND", b"")
