"""Addresses of the pages about the API; the API itself stands at /api/1/."""

from django.urls import path

from procedures.views.tokens import api_page, take_token_back, tokens

patterns = [
    path("api/", api_page, name="api"),
    path("account/tokens/", tokens, name="tokens"),
    path("account/tokens/<int:token>/take-back/", take_token_back, name="take_token_back"),
]
