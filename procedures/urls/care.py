"""Addresses of care: reporting, moderators, safety and terms."""

from django.urls import path

from procedures.views.care import care, read_warning, report, safety, shut_out, terms
from procedures.views.moderation import moderated, moderation, moderation_log

patterns = [
    path("report/<slug:kind>/<str:key>/", report, name="report"),
    path("account/care/", care, name="care"),
    path("account/care/warnings/<int:warning>/", read_warning, name="read_warning"),
    path("account/care/people/<str:name>/", shut_out, name="shut_out"),
    path("moderation/", moderation, name="moderation"),
    path("moderation/log/", moderation_log, name="moderation_log"),
    path("moderation/<slug:kind>/<int:item>/", moderated, name="moderated"),
    path("safety/", safety, name="safety"),
    path("terms/", terms, name="terms"),
]
