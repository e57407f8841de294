"""What pages are read back on, made once for all tests that read them."""

from __future__ import annotations

import pytest
from tests.packet import demo
from tests.packet.reading import (
    PAPERS,
    chosen,
    example,
    random_seeds,
    random_setting,
    written,
)

from casewright.packet.pages.setting import Setting


@pytest.fixture(scope="session")
def settings(variants: int) -> list[tuple[Setting, str]]:
    """Every setting and everything that its PDF says."""
    shown = [(demo.setting(*given), demo.plain(" ".join(demo.texts(demo.pdf(*given))))) for given in PAPERS]
    others = [example(*one) for one in chosen(variants, of=3) if one[0] != demo.ORDER]
    others += [random_setting(seed) for seed in random_seeds(variants)]
    return shown + [(setting, written(setting)) for setting in others]
