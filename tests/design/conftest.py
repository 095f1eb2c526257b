"""What the design room's tests share: a section of which closed forms are known."""

from collections.abc import Iterator

import pytest

from bladewright.design import section_flow


@pytest.fixture(scope="module", name="_thin_sections")
def _thin_sections() -> Iterator[None]:
    """Every section as its mean line alone, so that hand sums of strip and thin-section theory hold."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(section_flow, "tabled_flow", section_flow.thin_flow)
        yield
