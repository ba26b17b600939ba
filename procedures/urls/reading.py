"""Addresses of reading: lists, a procedure, its drawings and prints."""

from django.urls import path

from procedures.views.following import follow, follow_start
from procedures.views.full_size import full_size, full_size_dxf, full_size_pdf_file, full_size_svg
from procedures.views.handout import handout, handout_file
from procedures.views.home import home
from procedures.views.measuring import measured
from procedures.views.printing import card, print_page
from procedures.views.reading import read
from procedures.views.solids import solid
from procedures.views.stages import stage, stages
from procedures.views.stretches import drawings
from procedures.views.units import units

patterns = [
    path("", home, name="home"),
    path("p/<slug:slug>/", read, name="read"),
    path("p/<slug:slug>/drawings/<slug:part>/<int:number>/", drawings, name="drawings"),
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
    path("handout/", handout, name="handout"),
    path("handout.pdf", handout_file, name="handout_pdf"),
    path("units/", units, name="units"),
]
