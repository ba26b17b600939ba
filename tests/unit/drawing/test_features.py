"""What is on a bar besides its sections: holes, grooves, heads, welds, branches on its side, and its heat."""

from dataclasses import replace

import pytest

from calculators.glow import glow_hex
from calculators.sections import Section
from procedures.drawing import PartDrawing
from procedures.drawing.scene import scene
from procedures.drawing.views import EDGE, PLAN
from procedures.engine.pieces.branch import Attachment, Feature
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import Segment, uniform

from .pieces import FLAT, SQUARE, arc, made, of, with_arms
from .svg_reading import Drawing
from .test_plot import a_part, drawn


def with_feature(piece, *features):
    for one in features:
        piece = piece.featured("bar", one)
    return made(piece, before=bar(FLAT, 200))


def read(replayed, frame) -> tuple[Drawing, float]:
    drawing = PartDrawing(replayed)
    return Drawing(drawing.step(frame)), drawing.plot.scale


HOLE = Feature("punched", "H1", 60, "round", 10, 10)


def test_a_hole_is_seen_from_its_face_and_hidden_from_the_side():
    drawing, scale = read(*with_feature(bar(FLAT, 200), HOLE))
    (hole,) = [line for line in drawing.lines("worked") if len(line) > 3]
    xs, ys = zip(*hole, strict=True)
    assert max(xs) - min(xs) == pytest.approx(10 * scale, abs=0.3)
    assert max(ys) - min(ys) == pytest.approx(10 * scale, abs=0.3)
    assert len(drawing.lines("hidden")) == 2


def test_a_new_hole_is_named_sized_and_placed():
    drawing, _ = read(*with_feature(bar(FLAT, 200), HOLE))
    assert {"H1 ø10", "60"} <= set(drawing.words)


def test_alike_holes_are_counted():
    holes = [replace(HOLE, name=f"H{number}", at=40 + 50 * number) for number in range(3)]
    drawing, _ = read(*with_feature(bar(FLAT, 200), *holes))
    assert "3×\N{NO-BREAK SPACE}ø10" in drawing.words


def test_a_hole_from_an_edge_is_open_in_the_edge_view():
    drawing, scale = read(*with_feature(bar(FLAT, 200), replace(HOLE, face="edge", length=4, width=4)))
    hidden = [abs(line[0][1] - line[-1][1]) for line in drawing.lines("hidden")]
    assert hidden == pytest.approx([30 * scale] * 2, abs=0.05)


def breadth(piece, view, at: float) -> float:
    """Return how broad the bar is in a view at an X [mm]."""
    ys = [y for one in scene(pose(piece), view).facets for x, y in one.ring if abs(x - at) < 1e-6]
    return max(ys) - min(ys)


def test_the_bar_stands_out_at_a_hole_with_a_boss():
    piece = bar(FLAT, 200).featured("bar", replace(HOLE, bulge=6))
    assert breadth(piece, PLAN, 60) == pytest.approx(36)
    assert breadth(piece, PLAN, 0) == pytest.approx(30)
    assert breadth(piece, EDGE, 60) == pytest.approx(8)


@pytest.mark.parametrize(("side", "left"), [("both", 6), ("top", 7), ("bottom", 7), ("all", 6)])
def test_a_groove_dips_the_outline_from_the_sides_it_is_in(side, left):
    """1 mm deep in 8: from both faces 6 are left, from one 7."""
    groove = Feature("groove", "N", 100, "rectangle", 10, 30, depth=1, side=side)
    piece = bar(FLAT, 200).featured("bar", groove)
    assert breadth(piece, EDGE, 100) == pytest.approx(left)
    assert breadth(piece, EDGE, 105) == pytest.approx(8)
    assert breadth(piece, PLAN, 100) == pytest.approx(28 if side == "all" else 30)


def test_a_groove_says_how_deep_it_is():
    groove = Feature("groove", "N", 100, "rectangle", 10, 30, depth=1, side="both")
    drawing, _ = read(*with_feature(bar(FLAT, 200), groove))
    assert any(words.endswith("1 deep") for words in drawing.words)


def test_a_ring_welded_shut_has_no_ends():
    ring = of(Segment(SQUARE, SQUARE, Arc(80, 360).length, Arc(80, 360)))
    joint = Joint("ring_weld", (Point("bar", 0.0), Point("bar", ring.root.length)))
    open_ring, _ = read(*made(ring))
    shut, _ = read(*made(replace(ring, joints=(joint,))))
    assert len(open_ring.lines("outline")) == len(shut.lines("outline")) + 1  # both its ends lie on one line


def test_a_branch_at_a_slant_reaches_down_to_what_it_stands_on():
    attached = Attachment("bar", 150.0, angle=45, offset=6)
    replayed, frame = made(with_arms(bar(SQUARE, 300), (attached, uniform(Section.square(8), 60))))
    drawing, scale = read(replayed, frame)
    rises = [(abs(a[0] - b[0]), abs(a[1] - b[1]), a, b) for a, *_, b in drawing.lines("outline")]
    top = min(a[1] for across, up, a, _ in rises if up == 0 and across > 100 * scale)
    feet = [max(a[1], b[1]) for across, up, a, b in rises if across > 20 and up > 20]
    assert len(feet) == 2
    assert feet == pytest.approx([top, top], abs=0.1 * scale)


def test_an_angle_upwards_is_given_in_the_edge_view():
    attached = Attachment("bar", "end", elevation=40)
    piece = with_arms(bar(FLAT, 200), (attached, uniform(Section.flat(20, 6), 80)))
    drawing, _ = read(*made(piece, angles=[("arm 0", 40)]))
    where = next(one.box for one in drawing.texts if one.words == "40°")
    plan = next(one.box for one in drawing.texts if one.words == "Plan")
    assert where[3] < plan[1]


def test_an_old_bend_is_not_given_again():
    """Only what a step bends carries its radius; planishing a bent bar does not."""
    bent = of(uniform(SQUARE, 100), arc(SQUARE, 21, 90), uniform(SQUARE, 60))
    drawing, _ = read(*made(bent, Span("bar", 0, bent.root.length), before=bent))
    assert not any(words.startswith("R1") for words in drawing.words)


def test_hot_work_names_the_colour_of_its_heat():
    replayed = a_part(drawn("end"))
    frame = replayed.frames[0]
    svg = Drawing(PartDrawing(replayed).step(frame))
    low, high = frame.operation.heat
    assert svg.root.get("color") == glow_hex((low + high) / 2)
    assert svg.element("tone").get("fill") == "#dcdcdc"  # what paper and a page without that rule show


def test_cold_work_has_no_colour():
    bend = {"where": {"on": "bar", "datum": "centre"}, "angle": 30, "inside_radius": 60, "cold": True}
    replayed = a_part(("bend", bend))
    assert Drawing(PartDrawing(replayed).step(replayed.frames[0])).root.get("color") is None


def test_a_taper_from_its_start_is_said_to_begin():
    piece = of(Segment(Section.square(4), SQUARE, 80), uniform(SQUARE, 200))
    said = PartDrawing(made(piece)[0]).text(made(piece)[1]).replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert "beginning at □4 mm, then □12 mm for 200 mm" in said
