"""Settings that every test shares: repeatable hypothesis runs, and how many random orders the laws try."""

from __future__ import annotations

import pytest
from hypothesis import HealthCheck, settings

DEFAULT_VARIANTS = 60

# Derandomized: the same examples on every machine, so that a red test is red for everyone.
settings.register_profile(
    "repeatable",
    derandomize=True,
    database=None,
    deadline=None,  # no test depends on the clock
    max_examples=50,
    print_blob=False,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("repeatable")


def pytest_addoption(parser: pytest.Parser) -> None:
    """Offer --variants N."""
    parser.addoption(
        "--variants",
        type=int,
        default=DEFAULT_VARIANTS,
        help=f"random valid orders that every law is tried on (default {DEFAULT_VARIANTS}; make test-long: 1000)",
    )


@pytest.fixture(scope="session")
def variants(request: pytest.FixtureRequest) -> int:
    """Return how many random valid orders to try the laws on."""
    return int(request.config.getoption("--variants"))
