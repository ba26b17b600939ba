"""Addresses: the site's own at the root, accounts, and the health check."""

from django.urls import include, path

from forgesite.health import healthz
from procedures.api.site import api

urlpatterns = [
    path("", include("procedures.urls")),
    path("api/1/", api.urls),
    path("accounts/", include("allauth.account.urls")),
    path("healthz", healthz, name="healthz"),
]
