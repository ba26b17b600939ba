"""Addresses of the site."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import path

from .access import anyone
from .views.units import units


@anyone
def home(request: HttpRequest) -> HttpResponse:
    """Anyone: the front page."""
    return render(request, "base.html")


app_name = "procedures"
urlpatterns = [
    path("", home, name="home"),
    # the reader's own choices
    path("units/", units, name="units"),
]
