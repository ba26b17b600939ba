"""What random procedures once broke: work to what no bar can be, marks off the bar, and scale's own part."""

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar

from .forging import at, forged, refused, split, tried

SQUARE, FLAT = Section.square(12), Section.flat(30, 8)
WHOLE = {"on": "bar"}
POINT, EDGE = {"shape": "point"}, {"shape": "edge", "width": 10}
TUBE = {"shape": "tube", "diameter": 12, "wall": 2}


def last(length):
    return {"on": "bar", "datum": "end", "length": length}


def codes(frame):
    return [one.code for one in frame.findings]


@pytest.mark.parametrize("nothing", [POINT, EDGE])
def test_no_run_is_drawn_upset_or_welded_to_a_section_without_area(nothing):
    piece = bar(FLAT, 300)
    assert "shape.target_without_area" in refused(piece, "draw_out", where=last(50), target=nothing)
    assert "shape.target_without_area" in refused(piece, "upset", where=last(50), target=nothing)
    folded = forged(piece, "fold_back", on="bar", flap=60)
    assert "shape.target_without_area" in refused(folded, "weld_fold", on="bar", dressed=nothing)
    both = bar(FLAT, 300, bench={"rod": bar(FLAT, 300, name="rod")})
    lapped = {"on": "bar", "part": "rod", "zone": 40}
    assert "shape.target_without_area" in refused(both, "weld_lap", **lapped, dressed=nothing)


def test_solid_bar_is_not_forged_to_a_tube():
    piece = bar(SQUARE, 300)
    assert refused(piece, "draw_out", where=last(50), target=TUBE) == ["shape.target_hollow"]
    assert refused(piece, "taper", where=last(50), end_section=TUBE) == ["shape.target_hollow"]
    measured = {"where": WHOLE, "measured_section": TUBE, "action": "rebase"}
    assert refused(piece, "inspect", **measured) == ["shape.target_hollow"]


def test_a_tube_is_drawn_to_a_tube_but_not_shut():
    piece = bar(Section.tube(20, 3), 300)
    smaller = {"shape": "tube", "diameter": 16, "wall": 3}
    longer = forged(piece, "draw_out", where=last(50), target=smaller)
    assert longer.root.length == pytest.approx(250 + 50 * (20**2 - 14**2) / (16**2 - 10**2))
    solid = {"shape": "round", "diameter": 12}
    assert refused(piece, "draw_out", where=last(50), target=solid) == ["shape.hollow"]


def test_no_run_comes_out_longer_than_any_bar():
    hair = {"shape": "round", "diameter": 1e-3}
    assert refused(bar(SQUARE, 300), "draw_out", where=last(50), target=hair) == ["shape.no_end_of_it"]


def test_an_upset_that_would_get_longer_is_refused():
    piece = forged(bar(SQUARE, 300), "taper", where=last(40), end_section={"shape": "square", "side": 2})
    cone = {"where": last(100.5), "form": "cone", "target": {"shape": "square", "side": 7.7}}
    assert refused(piece, "upset", **cone, thick_end="start") == ["upset.gets_longer"]


def test_a_mark_held_by_an_end_stops_at_the_other_and_says_so():
    piece = bar(Section.round(12), 100)
    piece = forged(piece, "mark_out", marks=[{"name": "H", **at(datum="start", offset=90)}], holds="start")
    piece = forged(piece, "mark_out", marks=[{"name": "M", **at(datum="start", offset=95)}])
    frame = tried(piece, "upset", where=last(40), target={"shape": "round", "diameter": 18})
    marks = {one.name: one.at for one in frame.after.root.marks}
    assert marks["H"] == pytest.approx(frame.after.root.length)
    assert [one.name for one in frame.after.root.marks] == ["M", "H"]
    assert "place.mark_ran_out" in codes(frame)


def test_held_marks_are_listed_where_they_come_to_lie():
    piece = bar(SQUARE, 300, marks={"M": 250})
    piece = forged(piece, "mark_out", marks=[{"name": "H", **at(offset=20)}], holds="end")
    piece = forged(piece, "cut_off", at=at(datum="start", offset=260))
    assert [(one.name, one.at) for one in piece.root.marks] == [("H", 240), ("M", 250)]


def test_a_hole_at_a_crotch_is_no_longer_than_what_is_there():
    piece = split(bar(FLAT, 130), offset=100)
    hole = {"where": [at(datum="end")], "size": 200}
    assert refused(piece, "slit_drift", **hole) == ["slit_drift.breaks_out"]
    frame = tried(piece, "slit_drift", where=[at(datum="end")], size=20)
    (worked,) = frame.after.worked
    assert worked.high == pytest.approx(frame.after.root.length)


def test_a_weld_cut_through_is_not_split_apart():
    both = bar(SQUARE, 100, bench={"rod": bar(SQUARE, 100, name="rod")})
    piece = forged(both, "weld_lap", on="bar", part="rod", zone=20, dressed={"shape": "square", "side": 12})
    weld = piece.joints[0].places[0]
    piece = forged(piece, "cut_off", at=at(datum="start", offset=weld.at))
    assert refused(piece, "split", where=at(offset=30), children=["left", "right"]) == ["shape.end_taken"]


def test_a_pile_keeps_the_metal_of_a_chamfered_leaf():
    leaf = bar(FLAT, 100, name="leaf")
    piece = forged(bar(FLAT, 100, bench={"leaf": leaf}), "chamfer", where=last(40), size=1, method="filed")
    there = piece.volume
    piece = forged(piece, "weld_fagot", on="bar", part="leaf", dressed={"shape": "square", "side": 18})
    assert piece.volume == pytest.approx(there + 2 * leaf.volume)
    assert piece.root.features == ()


def test_a_disc_is_pointed_by_its_own_metal():
    piece = forged(bar(FLAT, 100), "spread", where=last(40), outline="disc", thickness=4)
    pointed = forged(piece, "point", where={"on": "bar", "datum": "end"}, point_length=20, tip=0)
    assert pointed.volume == pytest.approx(piece.volume)


def test_a_twisted_chisel_end_keeps_its_metal_when_it_gets_shorter():
    piece = forged(bar(SQUARE, 300), "taper", where=last(40), chisel_edge=0)
    piece = forged(piece, "twist", where=last(60), turns=0.5, shortening=4)
    assert piece.volume == pytest.approx(300 * 144)


def test_what_scale_takes_below_the_target_is_refused_and_says_that_it_was_the_scale():
    piece = bar(Section.flat(30, 6), 100)
    assert tried(piece, "planish", where=WHOLE, thickness=5.9).status == "done"
    frame = tried(piece, "planish", where=WHOLE, thickness=5.9, heats=1, scale=0.1)
    assert (frame.status, codes(frame)) == ("stopped", ["planish.not_thinner"])
    assert "5.8" in frame.findings[0].text()
    assert "scale of this step" in frame.findings[0].text()


def test_flattening_a_tip_that_scale_burnt_away_is_refused():
    piece = forged(bar(FLAT, 60), "point", where={"on": "bar", "datum": "end", "length": 10}, tip=0.1)
    frame = tried(piece, "flatten", where=WHOLE, thickness=0.05, spread=0.5, heats=1, scale=0.1)
    assert frame.status == "stopped"
