"""Addresses of the site."""

from django.urls import path

from .views.following import follow, follow_start
from .views.home import home, procedure_list
from .views.printing import card
from .views.reading import document_schema, read
from .views.units import units

app_name = "procedures"
urlpatterns = [
    path("", home, name="home"),
    # reading, following, printing
    path("procedures/", procedure_list, name="list"),
    path("p/<slug:slug>/", read, name="read"),
    path("p/<slug:slug>/follow/", follow_start, name="follow_start"),
    path("p/<slug:slug>/follow/<slug:part>/<int:number>/", follow, name="follow"),
    path("p/<slug:slug>/card.pdf", card, name="card"),
    path("schema/procedure-1.json", document_schema, name="schema"),
    # the reader's own choices
    path("units/", units, name="units"),
]
