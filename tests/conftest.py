"""What every test stands on."""

import shutil

import pytest
from django.conf import settings
from django.core.cache import cache


def pytest_configure() -> None:
    settings.INSTANCE.mkdir(mode=0o700)


def pytest_unconfigure() -> None:
    shutil.rmtree(settings.INSTANCE)


@pytest.fixture(autouse=True)
def empty_cache() -> None:
    """Rate limits and kept cards of one test must not reach the next."""
    cache.clear()
