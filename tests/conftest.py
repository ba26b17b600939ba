"""What every test stands on."""

import shutil

import pytest
from django.conf import settings
from django.core.cache import cache
from hypothesis import settings as hypothesis_settings

# Time is never asserted. The same examples every run keep main green;
# `--hypothesis-profile explore` draws new ones.
hypothesis_settings.register_profile("steady", deadline=None, derandomize=True)
hypothesis_settings.register_profile("explore", deadline=None, max_examples=2000)
hypothesis_settings.load_profile("steady")


def pytest_configure() -> None:
    settings.INSTANCE.mkdir(mode=0o700)


def pytest_unconfigure() -> None:
    shutil.rmtree(settings.INSTANCE)


@pytest.fixture(autouse=True)
def empty_cache() -> None:
    """Rate limits and kept cards of one test must not reach the next."""
    cache.clear()
