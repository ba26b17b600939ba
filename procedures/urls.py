"""Addresses of the site."""

from django.urls import path

from .views.adapting import adapt, original
from .views.author import (
    delete_step,
    duplicate_step,
    edit,
    edit_step,
    insert_step,
    move_step,
    redo,
    undo,
)
from .views.bench_card import bench_card
from .views.calculators import calculator, calculators
from .views.citations import bibtex, csl
from .views.comparing import compare
from .views.courses import course, delete_course, end_course, join, open_course, sign_gate
from .views.cutting import cutting_list, cutting_list_csv
from .views.drawings import drawing, piece
from .views.engine import archive, runtime
from .views.following import follow, follow_start
from .views.full_size import full_size, full_size_dxf, full_size_pdf_file, full_size_svg
from .views.guide import operation, operations
from .views.handout import handout, handout_file
from .views.home import home, procedure_list
from .views.measuring import measured
from .views.mends import silence
from .views.offers import offer, offer_back, offers
from .views.pages import delete, document, new, publish, settings, take_in, unpublish
from .views.parts import add_part, delete_part, edit_part
from .views.photo_marks import mark_photo
from .views.photos import add_photo, edit_photo, photo
from .views.printing import card, print_page
from .views.reading import document_schema, narrow_drawings, read
from .views.revisions import cited, figures, revision, revisions, withdraw
from .views.rules import rules
from .views.run_photos import run_photo, take_in_photo
from .views.runs import delete_run, forget_run, run, run_json, runs, take_in_run
from .views.shop import manifest, on_this_phone, service_worker, shop, to_keep
from .views.solids import solid
from .views.stages import stage, stages
from .views.stock import apply_stock, stock, stock_strip
from .views.units import units

app_name = "procedures"
urlpatterns = [
    path("", home, name="home"),
    # reading, following, printing
    path("procedures/", procedure_list, name="list"),
    path("p/<slug:slug>/", read, name="read"),
    path("p/<slug:slug>/drawings/<slug:part>/", narrow_drawings, name="narrow_drawings"),
    path("p/<slug:slug>/follow/", follow_start, name="follow_start"),
    path("p/<slug:slug>/follow/<slug:part>/<int:number>/", follow, name="follow"),
    path("p/<slug:slug>/measured/<slug:part>/", measured, name="measured"),
    path("p/<slug:slug>/steps/<slug:part>/<int:number>/solid.glb", solid, {"kind": "glb"}, name="solid_glb"),
    path("p/<slug:slug>/steps/<slug:part>/<int:number>/solid.stl", solid, {"kind": "stl"}, name="solid_stl"),
    path("p/<slug:slug>/stages/<slug:part>/", stages, name="stages"),
    path("p/<slug:slug>/stages/<slug:part>/<int:number>/", stage, name="stage"),
    path("p/<slug:slug>/print/", print_page, name="print"),
    path("p/<slug:slug>/card.pdf", card, name="card"),
    path("p/<slug:slug>/full-size/", full_size, name="full_size"),
    path("p/<slug:slug>/full-size/full-size.pdf", full_size_pdf_file, name="full_size_pdf"),
    path("p/<slug:slug>/full-size/<slug:part>/<slug:pattern>.svg", full_size_svg, name="full_size_svg"),
    path("p/<slug:slug>/full-size/<slug:part>/<slug:pattern>.dxf", full_size_dxf, name="full_size_dxf"),
    # back from the finished piece
    path("p/<slug:slug>/stock/", stock, name="stock"),
    path("p/<slug:slug>/stock/strip.pdf", stock_strip, name="stock_strip"),
    path("p/<slug:slug>/stock/apply/", apply_stock, name="apply_stock"),
    path("p/<slug:slug>/cutting-list/", cutting_list, name="cutting_list"),
    path("p/<slug:slug>/cutting-list/cutting-list.csv", cutting_list_csv, name="cutting_list_csv"),
    path("schema/procedure-1.json", document_schema, name="schema"),
    path("handout/", handout, name="handout"),
    path("handout.pdf", handout_file, name="handout_pdf"),
    # revisions
    path("r/<slug:code>/", cited, name="cited"),
    path("p/<slug:slug>/r/", revisions, name="revisions"),
    path("p/<slug:slug>/compare/", compare, name="compare"),
    path("p/<slug:slug>/r/<int:number>/", revision, name="revision"),
    path("p/<slug:slug>/r/<int:number>/cite.bib", bibtex, name="bibtex"),
    path("p/<slug:slug>/r/<int:number>/cite.json", csl, name="csl"),
    path("p/<slug:slug>/r/<int:number>/figures/", figures, name="figures"),
    path("p/<slug:slug>/r/<int:number>/withdraw/", withdraw, name="withdraw"),
    # adaptations
    path("p/<slug:slug>/adapt/", adapt, name="adapt"),
    path("p/<slug:slug>/original/", original, name="original"),
    path("p/<slug:slug>/offer/", offer_back, name="offer_back"),
    path("p/<slug:slug>/offers/", offers, name="offers"),
    path("offers/<int:offer>/", offer, name="offer"),
    # the operation guide
    path("operations/", operations, name="operations"),
    path("rules/", rules, name="rules"),
    path("operations/<slug:operation>/", operation, name="operation"),
    # the calculators
    path("calculators/", calculators, name="calculators"),
    path("bench-card.pdf", bench_card, name="bench_card"),
    path("calculators/<slug:calculator>/", calculator, name="calculator"),
    # making, describing, publishing
    path("new/", new, name="new"),
    path("new/document/", take_in, name="take_in"),
    path("p/<slug:slug>/document.json", document, name="document"),
    path("p/<slug:slug>/settings/", settings, name="settings"),
    path("p/<slug:slug>/publish/", publish, name="publish"),
    path("p/<slug:slug>/unpublish/", unpublish, name="unpublish"),
    path("p/<slug:slug>/delete/", delete, name="delete"),
    # authoring
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
    # runs and classes
    path("p/<slug:slug>/teach/", open_course, name="open_course"),
    path("join/", join, name="join"),
    path("classes/<uuid:course>/", course, name="course"),
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
    # kept on the phone
    path("shop/", on_this_phone, name="on_this_phone"),
    path("shop/<slug:slug>/<int:revision>/<slug:units>/<slug:view>/", shop, name="shop"),
    path("shop/<slug:slug>/<int:revision>/<slug:units>/<slug:view>/to_keep.json", to_keep, name="to_keep"),
    path("sw.js", service_worker, name="service_worker"),
    path("manifest.webmanifest", manifest, name="manifest"),
    # the engine for a phone
    path("engine/<str:version>/<str:name>", runtime, name="runtime"),
    path("engine/<slug:digest>.zip", archive, name="engine_archive"),
    # the reader's own choices
    path("units/", units, name="units"),
]
