"""What every test stands on."""

from collections.abc import Iterator

import pytest
from django.core.cache import cache


@pytest.fixture(autouse=True)
def empty_cache() -> Iterator[None]:
    """Rate limits and kept cards of one test must not reach the next."""
    cache.clear()
    yield
