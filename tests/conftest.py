"""What every test stands on."""

import pytest
from django.core.cache import cache


@pytest.fixture(autouse=True)
def empty_cache() -> None:
    """Rate limits and kept cards of one test must not reach the next."""
    cache.clear()
