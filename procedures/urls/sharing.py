"""Addresses of revisions, and of adaptations and what is offered back."""

from django.urls import path

from procedures.views.adapting import adapt, original
from procedures.views.citations import bibtex, csl
from procedures.views.comparing import compare
from procedures.views.offers import offer, offer_back, offers
from procedures.views.open_web import embedding
from procedures.views.revisions import cited, figures, revision, revisions, withdraw

patterns = [
    path("oembed/", embedding, name="oembed"),
    path("r/<slug:code>/", cited, name="cited"),
    path("p/<slug:slug>/r/", revisions, name="revisions"),
    path("p/<slug:slug>/compare/", compare, name="compare"),
    path("p/<slug:slug>/r/<int:number>/", revision, name="revision"),
    path("p/<slug:slug>/r/<int:number>/cite.bib", bibtex, name="bibtex"),
    path("p/<slug:slug>/r/<int:number>/cite.json", csl, name="csl"),
    path("p/<slug:slug>/r/<int:number>/figures/", figures, name="figures"),
    path("p/<slug:slug>/r/<int:number>/withdraw/", withdraw, name="withdraw"),
    path("p/<slug:slug>/adapt/", adapt, name="adapt"),
    path("p/<slug:slug>/original/", original, name="original"),
    path("p/<slug:slug>/offer/", offer_back, name="offer_back"),
    path("p/<slug:slug>/offers/", offers, name="offers"),
    path("offers/<int:offer>/", offer, name="offer"),
]
