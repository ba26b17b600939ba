"""Addresses of the timetable of a class."""

from django.urls import path

from procedures.views.timetable import timetable, timetable_calendar, timetable_csv, timetable_print

patterns = [
    path("p/<slug:slug>/timetable/", timetable, name="timetable"),
    path("p/<slug:slug>/timetable/timetable.pdf", timetable_print, name="timetable_print"),
    path("p/<slug:slug>/timetable/timetable.csv", timetable_csv, name="timetable_csv"),
    path("p/<slug:slug>/timetable/timetable.ics", timetable_calendar, name="timetable_calendar"),
]
