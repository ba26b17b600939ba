"""Django's entry for the site's one app."""

from django.apps import AppConfig


class ProceduresConfig(AppConfig):
    name = "procedures"
    default_auto_field = "django.db.models.BigAutoField"
