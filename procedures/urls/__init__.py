"""Addresses of the site, a file for each room."""

from procedures.urls import authoring, guide, reading, sharing, shop, stock

app_name = "procedures"
urlpatterns = [
    *reading.patterns,
    *stock.patterns,
    *sharing.patterns,
    *guide.patterns,
    *authoring.patterns,
    *shop.patterns,
]
