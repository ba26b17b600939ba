"""How benches measure: the median of repeated runs, and bare pages to compare pages with."""

import statistics
from collections.abc import Callable
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


def empty_page_seconds(client: Client) -> float:
    """Time [s] of the site's own page, with the reader's name and choices in its frame and nothing in it."""
    with override_settings(ROOT_URLCONF="tests.bench._timing"):
        return seconds(lambda: client.get("/empty/"), repeat=100)
