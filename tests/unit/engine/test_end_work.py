"""Heads and tenons: the metal they take of even and uneven bar, the marks they leave, and their forms."""

import math

import pytest

from calculators.sections import Section
from procedures.engine.pieces.piece import bar
from procedures.engine.shaping.heads import FORMS, ROUGH, HeadForm

from .forging import at, forged, refused, split, tried

SQUARE = Section.square(12)
PIN = {"shape": "round", "diameter": 7}


def tapered(length=300, thin=8):
    return forged(
        bar(SQUARE, length),
        "taper",
        where={"on": "bar", "datum": "end", "length": 80},
        end_section={"shape": "square", "side": thin},
    )


def codes(frame):
    return {one.code for one in frame.findings}


# -- tenons ------------------------------------------------------------------------------------------


def test_a_tenon_on_a_tapered_end_takes_the_metal_that_is_there():
    before = tapered()
    piece = forged(before, "tenon", on="bar", section={"shape": "round", "diameter": 5}, length=30)
    assert piece.volume == pytest.approx(before.volume, rel=1e-12)
    assert piece.worked[0].length == pytest.approx(30, abs=1e-6)
    assert piece.root.mark("shoulder").at == pytest.approx(piece.root.length - 30, abs=1e-6)


def test_a_bevelled_tenon_on_a_tapered_end_fits_the_bar_where_it_begins():
    piece = forged(
        tapered(),
        "tenon",
        on="bar",
        section={"shape": "round", "diameter": 5},
        length=30,
        shoulder="bevelled",
    )
    *_, behind, bevel, pin = piece.root.segments
    assert bevel.start.is_close(behind.end, 1e-6)
    assert bevel.end == pin.start == Section.round(5)


def test_a_second_tenon_gets_a_mark_of_its_own():
    piece = bar(SQUARE, 300)
    for end in ("end", "start"):
        piece = forged(piece, "tenon", on="bar", end=end, section=PIN, length=20)
    assert piece.root.mark("shoulder 2").at == pytest.approx(20)
    assert piece.root.mark("shoulder").at == pytest.approx(piece.root.length - 20)


def test_each_arm_gets_its_tenon_and_its_mark():
    piece = forged(split(bar(Section.flat(30, 8), 300)), "tenon", on="arms", section=PIN, length=20)
    for name in ("left", "right"):
        arm = piece.branch(name)
        used = math.pi / 4 * 49 * 20 / 120
        assert arm.length == pytest.approx(100 - used + 20)
        assert arm.mark("shoulder").at == pytest.approx(100 - used)


def test_a_mark_in_the_metal_of_a_tenon_rides_on_it():
    piece = bar(SQUARE, 300, marks={"M": 297})
    after = forged(piece, "tenon", on="bar", section=PIN, length=20)
    used = math.pi / 4 * 49 * 20 / 144
    assert after.root.mark("M").at == pytest.approx(300 - used + 20 * (1 - 3 / used))


def test_a_hole_in_the_metal_of_a_tenon_is_warned_of():
    piece = forged(bar(Section.flat(25, 8), 300), "punch", where=[at(offset=12)], size=8)
    frame = tried(piece, "tenon", on="bar", section=PIN, length=120)
    assert "shape.hole_worked" in codes(frame)


def test_a_curled_end_takes_no_tenon():
    piece = forged(bar(SQUARE, 300), "loop", on="bar", inside_diameter=30)
    assert refused(piece, "tenon", on="bar", section=PIN, length=20) == ["shape.curved_metal"]


def test_an_end_that_an_arm_hangs_on_takes_no_tenon():
    piece = split(bar(Section.flat(30, 8), 300))
    assert "shape.end_taken" in refused(piece, "tenon", on="bar", section=PIN, length=20)


@pytest.mark.parametrize(
    "section",
    [{"shape": "point"}, {"shape": "edge", "width": 8}, {"shape": "tube", "diameter": 10, "wall": 2}],
    ids=lambda one: one["shape"],
)
def test_what_is_no_pin_is_refused(section):
    assert refused(bar(SQUARE, 300), "tenon", on="bar", section=section, length=20)


def test_a_flat_tenon_as_thick_as_its_bar_shoulders_on_the_edges():
    given = {"shape": "flat", "width": 18, "thickness": 8}
    frame = tried(bar(Section.flat(30, 8), 300), "tenon", on="bar", section=given, length=30)
    assert frame.status == "done"
    assert not codes(frame) & {"tenon.small_shoulder", "tenon.out_of_proportion"}


# -- heads -------------------------------------------------------------------------------------------

VOLUMES = {
    "square": 24**2 * 9,
    "hexagon": math.sqrt(3) / 2 * 24**2 * 9,
    "round": math.pi / 4 * 24**2 * 9,
    "dome": math.pi * 9 * (3 * 12**2 + 9**2) / 6,
    "rose": 24**2 * 9 / 3,
    "countersunk": 9 / 3 * math.pi / 4 * (24**2 + 24 * 12 + 12**2),
    "tee": 24 * 12 * 9,
}


@pytest.mark.parametrize("form", FORMS)
def test_a_head_holds_the_metal_of_its_form(form):
    run = HeadForm(form, 24, 9).segments(Section.round(12))
    assert sum(one.volume for one in run) == pytest.approx(VOLUMES[form])
    assert sum(one.length for one in run) == pytest.approx(9)


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("end", ["end", "start"])
def test_every_head_can_be_forged_at_either_end(form, end):
    before = bar(Section.round(12), 300, marks={"M": 150})
    piece = forged(before, "head", on="bar", end=end, form=form, size=24, height=9)
    used = VOLUMES[form] / (math.pi / 4 * 144)
    assert piece.volume == pytest.approx(before.volume)
    assert piece.root.length == pytest.approx(300 - used + 9)
    shoulder = 300 - used if end == "end" else 9
    assert piece.root.mark("shoulder").at == pytest.approx(shoulder)


def test_the_head_at_a_start_lies_outward():
    piece = forged(bar(Section.round(12), 200), "head", on="bar", end="start", form="dome", size=24, height=9)
    head = piece.root.segments[0]
    assert head.end == Section.round(24)
    assert head.start.width < 24


def test_a_chamfer_takes_its_corner_off():
    plain, chamfered = (HeadForm("round", 24, 9, chamfer=size).segments(Section.round(12)) for size in (0, 2))
    ring = math.pi * 2**2 / 2 * 2 * (12 - 2 / 3)  # a triangle's area round its centroid
    gone = sum(one.volume for one in plain) - sum(one.volume for one in chamfered)
    assert gone == pytest.approx(ring)


def test_rough_proportions_follow_the_shank_as_the_fire_left_it():
    frame = tried(bar(Section.round(12), 200), "head", on="bar", heats=2, scale=0.1)
    assert frame.operation.solved(frame.before, frame.after)["size"] == pytest.approx(1.5 * 12 + 3.175)
    assert frame.after.worked[0].length == pytest.approx((1.5 * 11.6 + 3.175) / 2)


@pytest.mark.parametrize("form", [one for one in FORMS if one not in ROUGH])
def test_only_square_and_hexagon_heads_have_rough_proportions(form):
    assert refused(bar(Section.round(12), 200), "head", on="bar", form=form) == ["head.size_missing"]


@pytest.mark.parametrize(
    ("given", "code"),
    [
        ({"form": "square", "size": 20, "height": 8, "thickness": 5}, "head.size_not_used"),
        ({"form": "rose", "size": 20, "height": 8, "chamfer": 1}, "head.size_not_used"),
        ({"form": "round", "size": 20, "height": 8, "chamfer": 8}, "head.chamfer_too_large"),
        ({"form": "tee", "size": 40, "height": 8, "thickness": 5}, "head.no_larger"),
        ({"form": "square", "size": 400, "height": 100}, "head.not_enough_bar"),
    ],
)
def test_a_head_that_makes_no_sense_is_refused(given, code):
    assert refused(bar(Section.round(12), 200), "head", on="bar", **given) == [code]


def test_a_head_smaller_than_usual_is_pointed_out_with_the_usual_size():
    frame = tried(bar(Section.round(12), 200), "head", on="bar", size=16, height=8)
    (note,) = [one for one in frame.findings if one.code == "head.smaller_than_usual"]
    assert note.mend == {"size": 21.18}


def test_a_head_on_each_arm():
    piece = forged(split(bar(Section.flat(24, 12), 300)), "head", on="arms", form="square", size=22, height=8)
    for name in ("left", "right"):
        assert piece.branch(name).segments[-1].end == Section.square(22)
