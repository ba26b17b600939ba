"""Every page says who may see it, and keeps to it."""

from collections.abc import Iterator
from urllib.parse import urlsplit

import pytest
from django.conf import settings
from django.shortcuts import resolve_url
from django.urls import URLPattern, URLResolver, get_resolver, reverse

from procedures import access

SAMPLES = {
    "IntConverter": 1,
    "SlugConverter": "no-such-thing",
    "StringConverter": "nothing",
    "UUIDConverter": "00000000-0000-4000-8000-000000000000",
    "PathConverter": "nothing",
}


def pages(resolver: URLResolver | None = None) -> Iterator[URLPattern]:
    """Every address of the namespace `procedures`."""
    if resolver is None:
        resolver = next(
            r for r in get_resolver().url_patterns if getattr(r, "namespace", None) == "procedures"
        )
    for pattern in resolver.url_patterns:
        if isinstance(pattern, URLResolver):
            yield from pages(pattern)
        else:
            yield pattern


def address_of_nothing(page: URLPattern) -> str:
    """An address the page answers to, of an object that does not exist."""
    route = str(page.pattern)
    samples = {name: SAMPLES[type(kind).__name__] for name, kind in page.pattern.converters.items()}
    assert page.name, f"{route} has no name"
    return reverse(f"procedures:{page.name}", kwargs=samples)


PAGES = [pytest.param(page, id=page.name or str(page.pattern)) for page in pages()]


@pytest.mark.parametrize("page", PAGES)
def test_view_declares_who_may_see_it(page):
    word = getattr(page.callback, "access", None)
    assert word, f"{page.name}: decorate the view with one of procedures.access"
    assert callable(getattr(access, word, None)), f"{page.name}: procedures.access knows no {word!r}"


@pytest.mark.django_db
@pytest.mark.parametrize(
    "page", [p for p in PAGES if getattr(p.values[0].callback, "access", None) != "anyone"]
)
@pytest.mark.parametrize("method", ["get", "post"])
def test_page_behind_a_sign_in_opens_for_no_stranger(client, page, method):
    response = getattr(client, method)(address_of_nothing(page))
    if response.status_code == 302:
        assert urlsplit(response.url).path == resolve_url(settings.LOGIN_URL)
    else:
        assert response.status_code in {403, 404, 405}
