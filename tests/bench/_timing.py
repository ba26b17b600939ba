"""How benches measure: the median of repeated runs, and bare pages to compare pages with."""

import statistics
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from time import perf_counter

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.test import Client, override_settings
from django.urls import include, path


def seconds(action: Callable[[], object], *, repeat: int = 30) -> float:
    """The median time of one call [s], after one call that is not counted."""
    action()
    times = []
    for _ in range(repeat):
        began = perf_counter()
        action()
        times.append(perf_counter() - began)
    return statistics.median(times)


def ratio(action: Callable[[], object], baseline: Callable[[], object], *, repeat: int = 30) -> float:
    """How many times longer an action takes than another.

    Both are timed in turn and the median of their ratios is taken, so that other work on the machine, which
    slows both, does not come in.
    """
    action()
    baseline()
    ratios = []
    for _ in range(repeat):
        began = perf_counter()
        action()
        between = perf_counter()
        baseline()
        ratios.append((between - began) / (perf_counter() - between))
    return statistics.median(ratios)


def bare(request: HttpRequest) -> HttpResponse:
    return HttpResponse("<!doctype html><title>bare</title>")


def empty(request: HttpRequest) -> HttpResponse:
    """The site's own page with nothing on it."""
    return render(request, "base.html")


urlpatterns = [path("", bare), path("empty/", empty), path("", include("forgesite.urls"))]


def bare_page_seconds(client: Client) -> float:
    """Time [s] of a page with nothing on it behind the site's own middleware."""
    with override_settings(ROOT_URLCONF="tests.bench._timing"):
        return seconds(lambda: client.get("/"), repeat=100)


@contextmanager
def with_bare_pages() -> Iterator[None]:
    """Put a bare answer at `/` and an empty page of the site at `/empty/`, beside the site's own pages."""
    with override_settings(ROOT_URLCONF="tests.bench._timing"):
        yield
