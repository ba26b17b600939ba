"""Cutting a branch off: what hangs on it, is marked on it or joined to it goes where it belongs."""

from dataclasses import replace

import pytest

from calculators.sections import Section
from procedures.engine.pieces.branch import Attachment, Branch, Feature, Mark
from procedures.engine.pieces.piece import Joint, bar
from procedures.engine.pieces.place import Point
from procedures.engine.pieces.segment import uniform
from procedures.engine.shaping.parting import Cut


def twig(name, length=50, **attached):
    return Branch(name, (uniform(Section.square(6), length),), attached=Attachment("bar", **attached))


def with_twigs(*twigs):
    """Return a bar of □10, 200 long, with branches on it that came from elsewhere."""
    piece = bar(Section.square(10), 200)
    for one in twigs:
        piece = replace(piece.with_branch(one), received=piece.received + one.volume)
    return piece


def test_what_hangs_beyond_the_cut_leaves_with_the_offcut():
    near, far = twig("near", at=60), twig("far", at=150)
    leaf = replace(twig("leaf"), attached=Attachment("far"))
    piece = Cut("bar", 100, "start", 0).made(with_twigs(near, far, leaf), "rest")
    assert [one.name for one in piece.branches] == ["bar", "near"]
    assert piece.offcuts[0].volume == pytest.approx(100 * 100 + 2 * 50 * 36)
    assert piece.imbalance == pytest.approx(0, abs=1e-9)


def test_what_hangs_on_the_kept_end_moves_with_it():
    piece = Cut("bar", 100, "end", 2).made(with_twigs(twig("far", at=150), twig("tip", at="end")), "")
    assert piece.branch("far").attached.at == pytest.approx(50)
    assert piece.branch("tip").attached.at == "end"
    assert piece.lost("kerf") == pytest.approx(200)
    assert piece.imbalance == pytest.approx(0, abs=1e-9)


def test_a_branch_that_leaves_leaves_its_group():
    piece = with_twigs(twig("far", at=150), twig("near", at=50)).grouped("arms", ["far", "near"])
    assert Cut("bar", 100, "start", 0).made(piece, "").groups == {"arms": ("near",)}


def test_a_mark_that_stays_with_an_end_stays_with_the_new_end():
    piece = bar(Section.square(10), 200)
    for mark in (Mark("grip", 170, "end"), Mark("zero", 20, "start"), Mark("A", 90)):
        piece = piece.marked("bar", mark)
    kept = Cut("bar", 100, "start", 0).made(piece, "").root
    assert {one.name: one.at for one in kept.marks} == {"zero": 20, "grip": 70, "A": 90}


def test_joints_beyond_the_cut_are_gone_and_the_others_move():
    piece = replace(
        bar(Section.square(10), 200), joints=tuple(Joint("lap_weld", (Point("bar", at),)) for at in (40, 160))
    )
    assert [one.places for one in Cut("bar", 100, "end", 0).made(piece, "").joints] == [(Point("bar", 60),)]


def test_holes_go_with_their_metal_and_a_cut_through_one_is_seen():
    hole = Feature("punched", "H", 160, "round", 8, 8, volume=-100)
    piece = bar(Section.square(10), 200).featured("bar", hole)
    piece = replace(piece, losses=()).losing("slug", 100)
    cut = Cut("bar", 100, "start", 2)
    after = cut.made(piece, "")
    assert after.root.features == ()
    assert after.offcuts[0].volume == pytest.approx(98 * 100 - 100)
    assert after.imbalance == pytest.approx(0, abs=1e-9)
    assert cut.through(piece.root) is None
    assert Cut("bar", 156.5, "start", 0).through(piece.root) is hole
    assert Cut("bar", 155, "start", 2).through(piece.root) is hole
