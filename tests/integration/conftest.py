"""People at their browsers: alice owns what there is, bob and charlie are signed in too, nobody is not."""

import pytest
from django.test import Client

from .showing import person


def at_the_browser(name: str) -> Client:
    client = Client()
    client.user = person(name)
    client.force_login(client.user)
    return client


@pytest.fixture
def alice(db) -> Client:
    return at_the_browser("alice")


@pytest.fixture
def charlie(db) -> Client:
    return at_the_browser("charlie")
