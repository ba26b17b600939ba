"""Scarfs: which face slopes, where the metal lies in space, and that welding leaves none."""

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.turning import mirrored_sideways, turned_round
from procedures.engine.shaping.scarfing import scarfed_face

from .forging import at, forged, refused, split, tried

SQUARE = Section.square(14)
FACES = ["up", "down", "left", "right"]
ACROSS = {"up": "down", "down": "up", "left": "right", "right": "left"}


def scarfed(piece=None, **more):
    return forged(piece or bar(SQUARE, 300), "scarf", **{"on": "bar", "length": 20, "lip": 3, **more})


def codes(frame):
    return {one.code for one in frame.findings}


def reaches(piece, at_start):
    """How far the tip reaches (left, right, up, down) of the line of the bar behind it."""
    posed = pose(piece, held=150).by_name["bar"]
    station = posed.segments[0].stations[0] if at_start else posed.segments[-1].stations[-1]
    _, y, z = station.axes.origin
    wide, thick = station.section.width / 2, station.section.thickness / 2
    return {"left": y + wide, "right": wide - y, "up": z + thick, "down": thick - z}


@pytest.mark.parametrize("end", ["end", "start"])
@pytest.mark.parametrize("face", FACES)
def test_the_face_that_slopes_is_found_again(face, end):
    assert scarfed_face(scarfed(face=face, end=end).root, end) == face
    assert scarfed_face(scarfed(face=face, end=end).root, "start" if end == "end" else "end") is None


@pytest.mark.parametrize("end", ["end", "start"])
@pytest.mark.parametrize("face", FACES)
def test_the_face_across_from_a_scarf_stays_level(face, end):
    found = reaches(scarfed(face=face, end=end), at_start=end == "start")
    assert found[ACROSS[face]] == pytest.approx(7)
    assert found[face] == pytest.approx(7 - 11)


@pytest.mark.parametrize("face", FACES)
def test_a_scarf_at_the_start_leaves_the_bar_where_it_was(face):
    posed = pose(scarfed(face=face, end="start"), held=150).by_name["bar"]
    for place in (20, 100, 300):
        assert posed.axes_at(place).origin[1:] == pytest.approx((0, 0), abs=1e-9)


def test_a_scarf_cut_in_two_still_slopes_as_one():
    """As a heat does that reaches over a part of it."""
    whole = scarfed()
    tip = Span("bar", whole.root.length - 8, whole.root.length)
    piece = whole.changed(tip, lambda one: one)
    assert len(piece.root.segments) == len(whole.root.segments) + 1
    assert reaches(piece, at_start=False) == pytest.approx(reaches(whole, at_start=False))
    assert scarfed_face(piece.root, "end") == "up"


def test_a_bar_turned_round_has_its_scarf_on_the_same_face_or_the_other_hand():
    for face, now in (("up", "up"), ("left", "right")):
        piece = turned_round(scarfed(face=face))
        assert scarfed_face(piece.root, "start") == now
        assert scarfed_face(turned_round(piece).root, "end") == face


def test_a_scarf_on_an_edge_changes_sides_in_a_mirrored_frame():
    assert scarfed_face(mirrored_sideways(scarfed(face="left").root), "end") == "right"


def test_a_scarf_stays_when_its_bar_is_bent():
    piece = forged(scarfed(), "bend", where=at(offset=10), meaning="arc_middle", angle=10, inside_radius=60)
    assert scarfed_face(piece.root, "end") == "up"


def test_a_weld_leaves_no_scarf():
    other = scarfed(bar(SQUARE, 200, name="rod"), on="rod", end="start", face="down")
    piece = scarfed(bar(SQUARE, 300, bench={"rod": other}))
    welded = forged(piece, "weld_lap", on="bar", part="rod", zone=30, dressed=SQUARE.to_json())
    assert not [one for one in welded.root.segments if any(one.lean)]
    assert pose(welded).by_name["bar"].end.origin[1:] == pytest.approx((0, 0), abs=1e-9)


def test_a_cleft_slopes_on_no_face_and_keeps_two_lips():
    piece = scarfed(style="cleft")
    assert scarfed_face(piece.root, "end") is None
    assert piece.root.segments[-1].end == Section.flat(14, 6)


def test_a_round_bar_is_scarfed_to_a_flat_lip():
    piece = scarfed(bar(Section.round(16), 300))
    assert piece.root.segments[-1].end == Section.flat(16, 3)
    assert piece.volume == pytest.approx(Section.round(16).area * 300)


def test_both_ends_on_one_face_are_pointed_out_with_the_other():
    frame = tried(scarfed(), "scarf", on="bar", end="start", length=20, lip=3)
    (found,) = [one for one in frame.findings if one.code == "scarf.same_face"]
    assert found.mend == {"face": "down"}
    frame = tried(scarfed(), "scarf", on="bar", end="start", length=20, lip=3, **found.mend)
    assert "scarf.same_face" not in codes(frame)


def test_an_upset_end_is_not_told_to_upset():
    upset = forged(
        bar(SQUARE, 300),
        "upset",
        where={"on": "bar", "datum": "end", "length": 30},
        target={"shape": "square", "side": 16},
    )
    assert "scarf.not_upset" in codes(tried(bar(SQUARE, 300), "scarf", on="bar", length=20, lip=3))
    assert "scarf.not_upset" not in codes(tried(upset, "scarf", on="bar", length=20, lip=3))


@pytest.mark.parametrize(("length", "cautioned"), [(8, True), (11, False), (20, False), (40, True)])
def test_a_slope_laps_well_between_25_and_50_degrees(length, cautioned):
    frame = tried(bar(SQUARE, 300), "scarf", on="bar", length=length, lip=3)
    assert ("scarf.angle" in codes(frame)) == cautioned


def test_each_arm_is_scarfed():
    piece = scarfed(split(bar(Section.flat(30, 12), 300)), on="arms", face="left")
    assert [scarfed_face(piece.branch(arm), "end") for arm in ("left", "right")] == ["left", "left"]


def test_an_end_that_is_bent_is_not_scarfed():
    piece = forged(bar(SQUARE, 300), "loop", on="bar", inside_diameter=40)
    assert refused(piece, "scarf", on="bar", length=20, lip=3) == ["shape.curved_metal"]
