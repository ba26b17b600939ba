"""Curves: cutting and turning them, laying metal along them, and what a bend or a scroll takes."""

import math
from itertools import pairwise

import pytest
from scipy.integrate import quad

from calculators.sections import Section
from procedures.engine.pieces.branch import Branch
from procedures.engine.pieces.path import Arc, Spiral
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Span
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.pieces.turning import turned_round
from procedures.engine.shaping.curving import Bending, laid

from .forging import at, forged, refused, split, tried

FLAT, SQUARE = Section.flat(30, 8), Section.square(12)
spirals = pytest.mark.parametrize(
    "spiral",
    [
        Spiral(first, last, turns, law)
        for law in ("archimedes", "logarithmic")
        for first, last, turns in ((32.0, 7.0, 1.75), (7.0, 32.0, 1.75), (60.0, 10.0, 2.0))
    ],
    ids=str,
)


def arc_length(spiral):
    """The length by integrating the curve itself."""
    sweep = 2 * math.pi * spiral.turns

    def speed(theta):
        share, small = theta / sweep, 1e-6
        low, high = max(share - small, 0), min(share + small, 1)
        rate = (spiral.radius_at(high) - spiral.radius_at(low)) / ((high - low) * sweep)
        return math.hypot(spiral.radius_at(share), rate)

    return quad(speed, 0, sweep, limit=200)[0]


@spirals
def test_a_spiral_is_as_long_as_its_curve(spiral):
    assert spiral.length == pytest.approx(arc_length(spiral), rel=1e-7)


@spirals
@pytest.mark.parametrize("share", [0.001, 0.3, 0.5, 0.9])
def test_a_cut_spiral_goes_on_from_the_radius_where_it_was_cut(spiral, share):
    length = spiral.length
    first, second = spiral.cut(length, share * length)
    assert first.first == spiral.first
    assert first.last == second.first
    assert second.last == spiral.last
    assert first.turns + second.turns == pytest.approx(spiral.turns)
    assert first.length == pytest.approx(share * length)
    assert second.length == pytest.approx((1 - share) * length)


@spirals
def test_a_spiral_cut_twice_is_the_same_as_cut_once_further_on(spiral):
    length = spiral.length
    _, rest = spiral.cut(length, 40)
    _, last = rest.cut(length - 40, 25)
    _, once = spiral.cut(length, 65)
    assert last.first == pytest.approx(once.first)
    assert last.turns == pytest.approx(once.turns)


@pytest.mark.parametrize(
    "path", [Arc(20, 90), Arc(20, 90, "hard", -1), Spiral(40, 8, 1.5, plane="hard")], ids=str
)
def test_a_curve_turned_round_twice_is_itself(path):
    assert path.turned().turned() == path


def test_a_bar_turned_round_still_bends_up_but_to_the_other_hand():
    assert Arc(20, 90, "easy", 1).turned() == Arc(20, 90, "easy", 1)
    assert Arc(20, 90, "hard", 1).turned() == Arc(20, 90, "hard", -1)
    assert Spiral(40, 8, 1.5, plane="easy").turned() == Spiral(8, 40, 1.5, plane="easy")


def test_metal_laid_along_an_arc_takes_of_its_angle_by_length():
    run = (uniform(FLAT, 10), uniform(FLAT, 30), Segment(FLAT, SQUARE, 20))
    angles = [one.path.angle for one in laid(run, Arc(60 / math.radians(90), 90))]
    assert angles == pytest.approx([15, 45, 30])


@spirals
def test_metal_laid_along_a_spiral_goes_on_where_the_piece_before_it_ends(spiral):
    whole = spiral.length
    run = laid([uniform(FLAT, whole * share) for share in (0.2, 0.5, 0.3)], spiral)
    for first, second in pairwise(run):
        assert first.path.last == second.path.first
    assert [one.path.length for one in run] == pytest.approx([one.length for one in run])


# -- bends -------------------------------------------------------------------------------------------


def test_a_bend_marked_at_any_of_its_points_is_the_same_bend():
    bending = Bending(90, 15, "easy", 1)
    branch = Branch("bar", (uniform(FLAT, 200),))
    arc = math.pi / 2 * 19
    outside = 100 - 23  # the corner lies inside radius and thickness beyond the beginning of the arc
    for meaning, place in (
        ("arc_start", outside),
        ("arc_middle", outside + arc / 2),
        ("arc_end", outside + arc),
        ("outside_corner", 100),
    ):
        span = bending.span(branch, place, meaning)
        assert (span.low, span.high) == pytest.approx((outside, outside + arc)), meaning


def test_legs_of_100_and_60_outside_want_143_8_of_bar_from_either_end():
    # 77 + π/2 × 19 + 37 = 143.85
    length = 77 + math.pi / 2 * 19 + 37
    given = {"meaning": "outside_corner", "angle": 90, "inside_radius": 15}
    assert length == pytest.approx(143.8, abs=0.1)
    from_start = forged(bar(FLAT, length), "bend", where=at(datum="start", offset=100), **given)
    from_end = forged(bar(FLAT, length), "bend", where=at(datum="end", offset=60), **given)
    assert from_start.worked[0].low == pytest.approx(from_end.worked[0].low)
    assert from_start.worked[0].high == pytest.approx(length - 37)


def test_the_outside_corner_of_a_bent_bar_lies_where_it_was_wanted():
    piece = forged(
        bar(FLAT, 300),
        "bend",
        where=at(datum="start", offset=100),
        meaning="outside_corner",
        angle=60,
        inside_radius=15,
    )
    posed = pose(piece).by_name["bar"]
    end = posed.end
    # from the far leg back along it to the line of the outside, 4 mm below the middle line of the first leg
    down = (end.origin[2] - 4 * end.up[2] + 4) / end.ahead[2]
    corner = end.origin[0] - 4 * end.up[0] - down * end.ahead[0]
    assert corner == pytest.approx(100)


def test_a_tapered_bar_bends_by_its_thickness_in_the_middle_of_the_arc():
    branch = Branch("bar", (Segment(Section.square(20), Section.square(10), 100),))
    span = Bending(90, 10, "easy", 1).span(branch, 50, "arc_start")
    middle = branch.section_at((span.low + span.high) / 2).thickness
    assert span.length == pytest.approx(math.pi / 2 * (10 + middle / 2))


def test_a_half_round_bends_on_its_centroid_so_up_and_down_differ():
    # the centroid lies 4/(3π) of the radius over the flat, which is down
    half = Section.half_round(20)
    centroid = 4 / (3 * math.pi) * 10
    assert Bending(90, 10, "easy", -1).length_at(half) == pytest.approx(math.pi / 2 * (10 + centroid))
    assert Bending(90, 10, "easy", 1).length_at(half) == pytest.approx(math.pi / 2 * (20 - centroid))


def test_a_bend_on_edge_takes_the_width():
    piece = forged(bar(FLAT, 300), "bend", where=at(datum="centre"), angle=90, inside_radius=60, turn="left")
    assert piece.worked[0].length == pytest.approx(math.pi / 2 * 75)
    (arc,) = (one.path for one in piece.root.segments if isinstance(one.path, Arc))
    assert (arc.plane, arc.turn, arc.radius) == ("hard", 1, pytest.approx(75))


def test_every_second_arm_of_a_mirrored_bend_goes_to_the_other_side():
    piece = split(bar(FLAT, 300))
    piece = forged(
        piece, "bend", where=at("arms", "centre"), angle=30, inside_radius=30, turn="left", mirrored=True
    )
    sides = [
        one.path.turn
        for name in ("left", "right")
        for one in piece.branch(name).segments
        if isinstance(one.path, Arc)
    ]
    assert sides == [1, -1]


def test_a_pair_bent_to_one_side_is_pointed_out_with_the_mend():
    frame = tried(
        split(bar(FLAT, 300)),
        "bend",
        where=at("arms", "centre"),
        angle=30,
        inside_radius=30,
        turn="left",
    )
    (finding,) = [one for one in frame.findings if one.code == "group.not_mirrored"]
    assert finding.mend == {"mirrored": True}


def test_a_bend_in_a_bend_is_refused():
    piece = forged(bar(SQUARE, 300), "bend", where=at(datum="centre"), angle=90, inside_radius=15)
    again = {"where": at(datum="centre"), "angle": 20, "inside_radius": 15}
    assert refused(piece, "bend", **again) == ["shape.already_bent"]


def test_a_cold_bend_takes_no_scale_and_is_warned_of_sooner():
    given = {"where": at(datum="centre"), "angle": 90, "inside_radius": 12}
    hot = tried(bar(SQUARE, 500), "bend", heats=1, scale=0.1, **given)
    cold = tried(bar(SQUARE, 500), "bend", heats=1, scale=0.1, cold=True, **given)
    assert hot.lost > 0
    assert cold.lost == 0
    assert "bend.tight" not in [one.code for one in hot.findings]
    assert {"bend.tight", "bend.cold_heavy"} <= {one.code for one in cold.findings}


def test_a_hole_close_to_a_bend_is_warned_of():
    piece = forged(bar(FLAT, 300), "punch", where=[at(datum="start", offset=120)], size=8)
    near = tried(piece, "bend", where=at(datum="start", offset=150), angle=90, inside_radius=15)
    far = tried(piece, "bend", where=at(datum="start", offset=220), angle=90, inside_radius=15)
    assert "bend.hole_near" in [one.code for one in near.findings]
    assert "bend.hole_near" not in [one.code for one in far.findings]


# -- scrolls -----------------------------------------------------------------------------------------


def test_a_scroll_winds_tighter_to_the_tip_at_either_end():
    given = {"on": "bar", "inner": 7, "outer": 32, "turns": 1.75}
    at_end = forged(bar(Section.square(5), 300), "scroll", **given).root
    at_start = forged(bar(Section.square(5), 300), "scroll", end="start", **given).root
    assert (at_end.segments[-1].path.first, at_end.segments[-1].path.last) == (32, 7)
    assert (at_start.segments[0].path.first, at_start.segments[0].path.last) == (7, 32)


def test_the_turns_follow_from_the_bar_used_by_either_law():
    for law, length in (("archimedes", 216.14), ("logarithmic", 182.56)):
        piece = forged(
            bar(Section.square(4), 300), "scroll", on="bar", inner=7, outer=32, length=length, law=law
        )
        assert piece.root.segments[-1].path.turns == pytest.approx(1.75, abs=0.001)


def test_a_scroll_longer_than_the_branch_offers_the_turns_that_fit():
    given = {"on": "bar", "inner": 7, "outer": 32, "turns": 1.75}
    frame = tried(bar(Section.square(5), 200), "scroll", **given)
    (finding,) = frame.findings
    assert finding.code == "scroll.longer_than_the_branch"
    forged(bar(Section.square(5), 200), "scroll", **{**given, **finding.mend})


def test_a_scroll_over_a_tapered_end_is_cut_where_the_taper_begins():
    piece = forged(
        bar(SQUARE, 300),
        "taper",
        where={"on": "bar", "datum": "end", "length": 60},
        end_section={"shape": "square", "side": 5},
    )
    piece = forged(piece, "scroll", on="bar", inner=10, outer=45, turns=1.5)
    curled = [one for one in piece.root.segments if isinstance(one.path, Spiral)]
    assert len(curled) == 2
    assert curled[0].path.last == curled[1].path.first
    assert sum(one.path.turns for one in curled) == pytest.approx(1.5)


def test_radii_the_wrong_way_round_are_refused_with_the_mend():
    frame = tried(bar(Section.square(5), 300), "scroll", on="bar", inner=32, outer=7, turns=1)
    (finding,) = frame.findings
    assert finding.code == "scroll.not_opening"
    forged(bar(Section.square(5), 300), "scroll", on="bar", turns=1, **finding.mend)


# -- turning a piece round ---------------------------------------------------------------------------


def test_a_piece_turned_round_is_the_same_body_in_space():
    piece = split(bar(FLAT, 300))
    piece = forged(piece, "open_split", on="arms", angles=[60, -20])
    piece = forged(piece, "bend", where=at("left", "centre"), angle=70, inside_radius=20, turn="left")
    piece = forged(piece, "bend", where=at("right", "centre"), angle=40, inside_radius=10, turn="up")
    piece = forged(piece, "bend", where=at("bar", "start", 60), angle=50, inside_radius=20, turn="down")
    piece = forged(piece, "bend", where=at("bar", "start", 150), angle=35, inside_radius=40, turn="right")
    before, after = corners(pose(piece)), corners(pose(turned_round(piece)))
    # every distance and the handedness of the whole are as they were
    for first in range(len(before)):
        for second in range(first):
            assert math.dist(before[first], before[second]) == pytest.approx(
                math.dist(after[first], after[second])
            )
    assert handed(before) == pytest.approx(handed(after))
    assert abs(handed(before)) > 1


def corners(posed):
    """Points in the body that say how it lies: the bar's end by the crotch, its other end, and the tips."""
    bar_, crotch = posed.by_name["bar"], posed.by_name["left"].start.origin
    ends = sorted([bar_.start, bar_.end], key=lambda one: math.dist(one.origin, crotch))
    tips = [posed.by_name[name].end for name in ("left", "right")]
    return [*(one.origin for one in (*ends, *tips)), *(one.point(0, 0, 5) for one in (*ends, *tips))]


def handed(points):
    """The signed volume of the body of four of the points, which a mirror image has the other way."""
    a, b, c, d = (points[index] for index in (0, 1, 2, 3))
    u, v, w = ([p - q for p, q in zip(one, a, strict=True)] for one in (b, c, d))
    return (
        u[0] * (v[1] * w[2] - v[2] * w[1])
        - u[1] * (v[0] * w[2] - v[2] * w[0])
        + u[2] * (v[0] * w[1] - v[1] * w[0])
    )


def test_a_twist_counts_turns_by_its_hand_and_shares_them_over_the_run():
    piece = forged(
        bar(SQUARE, 500, marks={"A": 150, "B": 350}),
        "twist",
        where={"on": "bar", "datum": "between", "mark": "A", "mark_to": "B"},
        turns=2,
        hand="left",
    )
    run = piece.root.segments_between(150, 350)
    assert sum(one.twist for one in run) == pytest.approx(-2)
    half = piece.root.segments_between(150, 250)
    assert sum(one.twist for one in half) == pytest.approx(-1)
    assert Span("bar", 150, 350) == piece.worked[0]
