"""Addresses of the site."""

from django.http import HttpRequest, HttpResponse
from django.urls import path


def home(request: HttpRequest) -> HttpResponse:
    """Anyone: the front page."""
    return HttpResponse("<!doctype html><html lang='en-GB'><title>forgesite</title><main><h1>forgesite</h1></main></html>")


app_name = "procedures"
urlpatterns = [path("", home, name="home")]
