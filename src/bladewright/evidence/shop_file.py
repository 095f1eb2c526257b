"""What the shop's own TOML files share: their first lines, and texts that must say something."""

from typing import Annotated

from pydantic import Field, StringConstraints

from bladewright.typed import Record

Words = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1)]


class ShopFile(Record):
    """A file about one blade."""

    format: int = Field(ge=1, le=1)
    serial: Words
