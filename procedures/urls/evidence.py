"""Addresses of the record of an original that is reproduced."""

from django.urls import path

from procedures.views.record import measurement, record, record_print, source

patterns = [
    path("p/<slug:slug>/record/", record, name="record"),
    path("p/<slug:slug>/record.pdf", record_print, name="record_print"),
    path("p/<slug:slug>/record/measurements/", measurement, name="new_measurement"),
    path("p/<slug:slug>/record/measurements/<slug:key>/", measurement, name="measurement"),
    path("p/<slug:slug>/record/sources/", source, name="new_source"),
    path("p/<slug:slug>/record/sources/<slug:key>/", source, name="record_source"),
]
