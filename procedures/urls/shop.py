"""Addresses of the forge: runs, classes, and what a phone keeps."""

from django.urls import path

from procedures.views.course_plan import assigned, course_days, course_handout, course_plan, forget_course
from procedures.views.courses import course, delete_course, end_course, join, open_course, sign_gate
from procedures.views.engine import archive, runtime
from procedures.views.run_photos import run_photo, take_in_photo
from procedures.views.runs import delete_run, forget_run, run, run_json, runs, take_in_run
from procedures.views.shop import manifest, on_this_phone, service_worker, shop, to_keep

patterns = [
    path("p/<slug:slug>/teach/", open_course, name="open_course"),
    path("join/", join, name="join"),
    path("classes/<uuid:course>/", course, name="course"),
    path("classes/<uuid:course>/plan/", course_plan, name="course_plan"),
    path("classes/<uuid:course>/assigned/<int:assignment>/", assigned, name="assigned"),
    path("classes/<uuid:course>/days/", course_days, name="course_days"),
    path("classes/<uuid:course>/forget/", forget_course, name="forget_course"),
    path("classes/<uuid:course>/handout.pdf", course_handout, name="course_handout"),
    path("classes/<uuid:course>/gate/", sign_gate, name="sign_gate"),
    path("classes/<uuid:course>/end/", end_course, name="end_course"),
    path("classes/<uuid:course>/delete/", delete_course, name="delete_course"),
    path("runs/", runs, name="runs"),
    path("runs/<uuid:run>/", run, name="run"),
    path("runs/<uuid:run>/run.json", run_json, name="run_json"),
    path("runs/<uuid:run>/delete/", delete_run, name="delete_run"),
    path("runs/<uuid:run>/entries/", take_in_run, name="take_in_run"),
    path("runs/<uuid:run>/photos/<uuid:entry>/", take_in_photo, name="take_in_photo"),
    path("runs/<uuid:run>/photos/<uuid:entry>/<int:width>.jpg", run_photo, name="run_photo"),
    path("runs/<uuid:run>/forget/", forget_run, name="forget_run"),
    path("shop/", on_this_phone, name="on_this_phone"),
    path("shop/<slug:slug>/<int:revision>/<slug:units>/<slug:view>/", shop, name="shop"),
    path("shop/<slug:slug>/<int:revision>/<slug:units>/<slug:view>/to_keep.json", to_keep, name="to_keep"),
    path("sw.js", service_worker, name="service_worker"),
    path("manifest.webmanifest", manifest, name="manifest"),
    path("engine/<str:version>/<str:name>", runtime, name="runtime"),
    path("engine/<slug:digest>.zip", archive, name="engine_archive"),
]
