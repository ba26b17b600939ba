"""Addresses of making a procedure: its draft, steps, photos and publishing."""

from django.urls import path

from procedures.views.author import (
    delete_step,
    duplicate_step,
    edit,
    edit_step,
    insert_step,
    move_step,
    redo,
    undo,
)
from procedures.views.drawings import drawing, piece
from procedures.views.mends import silence
from procedures.views.pages import delete, document, new, publish, settings, unpublish
from procedures.views.parts import add_part, delete_part, edit_part
from procedures.views.photo_marks import mark_photo
from procedures.views.photos import add_photo, edit_photo, photo

patterns = [
    path("new/", new, name="new"),
    path("p/<slug:slug>/document.json", document, name="document"),
    path("p/<slug:slug>/settings/", settings, name="settings"),
    path("p/<slug:slug>/publish/", publish, name="publish"),
    path("p/<slug:slug>/unpublish/", unpublish, name="unpublish"),
    path("p/<slug:slug>/delete/", delete, name="delete"),
    path("p/<slug:slug>/edit/", edit, name="edit"),
    path("p/<slug:slug>/undo/", undo, name="undo"),
    path("p/<slug:slug>/redo/", redo, name="redo"),
    path("p/<slug:slug>/parts/", add_part, name="add_part"),
    path("p/<slug:slug>/parts/<slug:part>/", edit_part, name="edit_part"),
    path("p/<slug:slug>/parts/<slug:part>/piece/", piece, name="piece"),
    path("p/<slug:slug>/parts/<slug:part>/delete/", delete_part, name="delete_part"),
    path("p/<slug:slug>/parts/<slug:part>/insert/", insert_step, name="insert_step"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/", edit_step, name="edit_step"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/move/", move_step, name="move_step"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/duplicate/", duplicate_step, name="duplicate_step"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/delete/", delete_step, name="delete_step"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/silence/", silence, name="silence"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/drawing.svg", drawing, name="drawing"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/photos/", add_photo, name="add_photo"),
    path("p/<slug:slug>/steps/<slug:part>/<slug:step>/photos/<slug:digest>/", edit_photo, name="edit_photo"),
    path(
        "p/<slug:slug>/steps/<slug:part>/<slug:step>/photos/<slug:digest>/marks/",
        mark_photo,
        name="mark_photo",
    ),
    path("p/<slug:slug>/photos/<slug:digest>/<int:width>.jpg", photo, name="photo"),
]
