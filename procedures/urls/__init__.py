"""Addresses of the site, a file for each room."""

from procedures.urls import (
    authoring,
    care,
    classes,
    evidence,
    exchange,
    finding,
    guide,
    guilds,
    keeping,
    planning,
    programs,
    reading,
    sharing,
    shop,
    shops,
    stock,
    talk,
)

app_name = "procedures"
urlpatterns = [
    *reading.patterns,
    *finding.patterns,
    *stock.patterns,
    *classes.patterns,
    *planning.patterns,
    *programs.patterns,
    *sharing.patterns,
    *exchange.patterns,
    *guide.patterns,
    *guilds.patterns,
    *authoring.patterns,
    *evidence.patterns,
    *shop.patterns,
    *shops.patterns,
    *talk.patterns,
    *care.patterns,
    *keeping.patterns,
]
