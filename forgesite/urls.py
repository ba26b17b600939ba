"""Addresses: the site's own at the root, accounts, and the health check."""

from django.urls import include, path

from forgesite.health import healthz

urlpatterns = [
    path("", include("procedures.urls")),
    path("accounts/", include("allauth.account.urls")),
    path("healthz", healthz, name="healthz"),
]
