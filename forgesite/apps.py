"""Django's entry for the project itself, which holds the commands `start` and `bench`."""

from django.apps import AppConfig


class ForgesiteConfig(AppConfig):
    name = "forgesite"
