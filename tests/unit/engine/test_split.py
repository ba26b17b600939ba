"""Splitting: arms with their share of everything, what a split refuses, and opening it."""

from dataclasses import replace

import pytest

from calculators.sections import Section
from procedures.engine.pieces.branch import Attachment, Branch
from procedures.engine.pieces.piece import Joint, bar
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.pose import pose
from procedures.engine.pieces.segment import uniform

from .forging import at, forged, refused, split, tried

FLAT = Section.flat(30, 8)
PAIR = {"where": at(offset=100), "children": ["left", "right"]}


def with_twig(piece, place):
    twig = Branch("twig", (uniform(Section.round(6), 40),))
    return replace(piece.hung(twig, Attachment("bar", place, angle=90)), received=twig.volume)


def sections(piece, *names):
    return [piece.branch(name).segments[0].start for name in names]


def test_arms_lie_beside_each_other_from_the_left():
    piece = split(bar(FLAT, 300))
    assert [piece.branch(name).attached for name in ("left", "right")] == [
        Attachment("bar", "end", offset=7.5),
        Attachment("bar", "end", offset=-7.5),
    ]
    assert piece.groups == {"arms": ("left", "right")}


def test_uneven_shares_fill_the_width_without_a_gap():
    piece = forged(
        bar(FLAT, 300),
        "split",
        where=at(offset=80),
        children=["a", "b", "c"],
        group="tines",
        shares=[1, 3, 2],
    )
    assert [one.width for one in sections(piece, "a", "b", "c")] == pytest.approx([5, 15, 10])
    edges = [
        (
            one.attached.offset + one.segments[0].start.width / 2,
            one.attached.offset - one.segments[0].start.width / 2,
        )
        for one in piece.branches[1:]
    ]
    assert edges == [pytest.approx((15, 10)), pytest.approx((10, -5)), pytest.approx((-5, -15))]


def test_a_saw_takes_its_kerf_between_arms_and_nothing_at_the_edges():
    piece = forged(
        bar(FLAT, 300),
        "split",
        where=at(offset=100),
        children=["a", "b", "c"],
        method="saw",
        kerf=1.5,
    )
    assert [one.width for one in sections(piece, "a", "b", "c")] == pytest.approx([9.25, 8.5, 9.25])
    assert [one.attached.offset for one in piece.branches[1:]] == pytest.approx([10.375, 0, -10.375])
    assert piece.lost("kerf") == pytest.approx(2 * 1.5 * 8 * 100)


def test_a_chisel_loses_nothing_of_any_section():
    for section in (
        Section.round(20),
        Section.octagon(16),
        Section.half_round(24),
        Section.rounded_flat(30, 8, 2),
    ):
        piece = split(bar(section, 300))
        arm = piece.branch("left")
        assert arm.volume == pytest.approx(section.area * 100 / 2)
        assert piece.volume == pytest.approx(section.area * 300)
        assert arm.segments[0].start.width == pytest.approx(section.width / 2)


def test_a_tapered_end_splits_into_tapered_arms():
    piece = forged(
        bar(FLAT, 300),
        "taper",
        where={"on": "bar", "datum": "end", "length": 50},
        end_section={"shape": "round", "diameter": 6},
    )
    whole = piece.volume
    piece = split(piece, 90)
    assert piece.volume == pytest.approx(whole)
    assert piece.branch("left").segments[-1].end.width == pytest.approx(3)


def test_every_arm_has_the_marks_beyond_the_crotch():
    piece = split(bar(FLAT, 300, marks={"A": 120, "C": 200, "B": 270}))
    assert [(one.name, one.at) for one in piece.root.marks] == [("A", 120), ("C", 200)]
    for name in ("left", "right"):
        assert [(one.name, one.at) for one in piece.branch(name).marks] == [("B", pytest.approx(70))]


def test_arms_at_the_start_run_outward_and_what_is_left_is_measured_from_the_crotch():
    piece = bar(FLAT, 300, marks={"B": 30, "A": 170})
    piece = with_twig(piece, 150.0)
    piece = replace(piece, joints=(Joint("lap_weld", (Point("bar", 220.0),), "old weld"),))
    piece = forged(
        piece, "split", where=at(datum="start", offset=80), end="start", children=["left", "right"]
    )
    assert piece.root.length == pytest.approx(220)
    assert piece.root.mark("A").at == pytest.approx(90)
    assert piece.branch("twig").attached.at == pytest.approx(70)
    assert piece.joints[0].places[0].at == pytest.approx(140)
    arm = piece.branch("left")
    assert arm.attached == Attachment("bar", "start", offset=7.5)
    assert arm.mark("B").at == pytest.approx(50)
    posed = pose(piece).by_name
    assert posed["left"].end.origin == pytest.approx((-80, 7.5, 0))
    assert posed["right"].end.origin == pytest.approx((-80, -7.5, 0))


def test_a_round_hole_at_the_crotch_stops_the_split_and_stays_on_the_bar():
    piece = forged(bar(FLAT, 300), "punch", where=[at(offset=100)], size=5)
    frame = tried(piece, "split", **PAIR)
    assert frame.status == "done"
    assert "split.no_round_end" not in [one.code for one in frame.findings]
    (hole,) = frame.after.root.features
    assert hole.at == pytest.approx(200)
    assert frame.after.branch("left").features == ()


def test_a_split_without_a_round_end_is_warned_of():
    assert "split.no_round_end" in [one.code for one in tried(bar(FLAT, 300), "split", **PAIR).findings]


def test_narrow_arms_are_warned_of():
    frame = tried(bar(Section.flat(16, 12), 300), "split", **PAIR, shares=[1, 2])
    assert "split.narrow_arm" in [one.code for one in frame.findings]


def test_each_member_of_a_group_is_split_into_arms_of_its_own():
    piece = split(bar(Section.flat(60, 8), 300))
    piece = forged(piece, "split", where=at("arms", offset=40), children=["upper", "lower"], group="tips")
    assert piece.groups["tips"] == ("left upper", "left lower", "right upper", "right lower")
    assert piece.branch("right lower").attached == Attachment("right", "end", offset=-7.5)
    assert sections(piece, *piece.groups["tips"]) == [Section.flat(15, 8)] * 4


@pytest.mark.parametrize(
    ("params", "codes"),
    [
        ({"shares": [1, 2, 3]}, ["split.shares_count"]),
        ({"group": "left"}, ["split.group_named_as_arm"]),
        ({"group": "bar"}, ["name.taken"]),
        ({"method": "saw", "kerf": 20, "shares": [1, 3]}, ["split.kerf_takes_all"]),
        ({"where": at(offset=300)}, ["split.nothing_left"]),
        ({"where": at(offset=0)}, ["split.nothing_left"]),
        ({"where": at("twig", offset=5)}, ["place.no_such_branch"]),
    ],
)
def test_a_split_that_cannot_be_is_refused(params, codes):
    assert refused(bar(FLAT, 300), "split", **{**PAIR, **params}) == codes


def test_an_end_that_is_split_already_is_not_free():
    again = {**PAIR, "where": at(offset=40), "children": ["c", "d"], "group": "more"}
    assert refused(split(bar(FLAT, 300)), "split", **again) == ["shape.end_taken"]


def test_a_bent_end_and_a_side_branch_in_the_arms_are_refused():
    bent = forged(bar(FLAT, 300), "bend", where=at(offset=50), angle=45, inside_radius=10)
    assert refused(bent, "split", **PAIR) == ["shape.curved_metal"]
    assert refused(with_twig(bar(FLAT, 300), 250.0), "split", **PAIR) == ["shape.in_the_way"]


# -- opening -----------------------------------------------------------------------------------------


def angles(piece, *names):
    return [piece.branch(name).attached.angle for name in names]


def test_one_angle_fans_the_arms_evenly():
    piece = forged(bar(Section.flat(60, 8), 300), "split", where=at(offset=80), children=["a", "b", "c", "d"])
    piece = forged(piece, "open_split", on="arms", angle=120)
    assert angles(piece, "a", "b", "c", "d") == pytest.approx([60, 20, -20, -60])


def test_arms_of_100_at_30_degrees_each_side_have_their_tips_100_apart():
    frame = tried(split(bar(FLAT, 300)), "open_split", on="arms", angles=[30, -30])
    posed = pose(frame.after).by_name
    left, right = posed["left"].end.origin, posed["right"].end.origin
    assert left[1] - right[1] == pytest.approx(100 + 15)  # and half of a width each at the crotch
    assert "100 mm apart" in str(frame.check).replace("\u202f", " ")


def test_opening_again_sets_the_angle_anew():
    piece = split(bar(FLAT, 300))
    for pair in ([80, -80], [35, -35]):
        piece = forged(piece, "open_split", on="arms", angles=pair)
    assert angles(piece, "left", "right") == [35, -35]


def test_one_arm_may_be_opened_alone_but_not_across_the_other():
    piece = split(bar(FLAT, 300))
    assert angles(forged(piece, "open_split", on="left", angles=[40]), "left", "right") == [40, 0]
    assert refused(piece, "open_split", on="left", angles=[-40]) == ["open_split.arms_cross"]


def test_the_arms_of_every_member_are_fanned_alike():
    piece = split(bar(Section.flat(60, 8), 300))
    piece = forged(piece, "split", where=at("arms", offset=40), children=["upper", "lower"], group="tips")
    piece = forged(piece, "open_split", on="tips", angles=[25, -10])
    assert angles(piece, *piece.groups["tips"]) == [25, -10, 25, -10]


def test_angles_are_one_for_each_arm():
    assert refused(split(bar(FLAT, 300)), "open_split", on="arms", angles=[30]) == ["open_split.angles_count"]


def test_opening_heats_the_crotch_only_and_counts_as_one_piece_of_work():
    frame = tried(split(bar(FLAT, 300)), "open_split", on="arms", angle=60, heats=2, scale=0.05)
    assert frame.heats == 2
    assert frame.after.root.section_at(160) == FLAT
    assert frame.after.root.section_at(195) == Section.flat(29.8, 7.8)
    arm = frame.after.branch("left")
    assert arm.section_at(10) == Section.flat(14.8, 7.8)
    assert arm.section_at(60) == Section.flat(15, 8)


def test_a_sharp_crotch_is_warned_of_with_the_mend():
    frame = tried(split(bar(FLAT, 300)), "open_split", on="arms", angle=60, crotch_radius=1)
    (finding,) = frame.findings
    assert (finding.code, finding.mend) == ("open_split.sharp_crotch", {"crotch_radius": 3})
