"""One step on each member of a group: 2, 3 and 40 arms come out alike, and count as often as there are."""

from dataclasses import replace

import pytest

from calculators.sections import Section
from procedures.engine.document import read
from procedures.engine.pieces.path import Arc, Spiral
from procedures.engine.pieces.piece import bar
from procedures.engine.replay import replay
from procedures.engine.trial import step, trial

from .forging import forged, tried

COUNTS = [2, 3, 40]
TO_SIX = {"shape": "square", "side": 6}
ARMS = {"on": "arms", "datum": "end", "length": 60}
WORK = {  # operation by name: its parameters on the group
    "taper": {"where": ARMS, "end_section": {"shape": "square", "side": 3}},
    "draw_out": {"where": ARMS, "target": TO_SIX},
    "upset": {"where": {**ARMS, "length": 20}, "target": {"shape": "square", "side": 12}},
    "flatten": {"where": ARMS, "thickness": 5, "bite": 20},
    "twist": {"where": {**ARMS, "offset": 20, "length": 50}, "turns": 1},
    "bend": {"where": {"on": "arms", "datum": "end", "offset": 60}, "angle": 45, "inside_radius": 10},
    "scroll": {"on": "arms", "inner": 10, "outer": 20, "turns": 0.5},
    "heat": {"where": ARMS},
    "file": {"where": ARMS, "depth": 0.5},
    "texture": {"where": ARMS},
    "harden": {"where": ARMS},
    "finish": {"where": ARMS},
}
MIRRORED = {
    "twist": WORK["twist"],
    "bend": {**WORK["bend"], "turn": "left"},
    "scroll": WORK["scroll"],
}


def arms(count):
    """Return a flat whose end is split into so many arms of 8 x 8."""
    piece = bar(Section.flat(8 * count, 8), 300, material_id="high_carbon")
    names = [f"arm {number}" for number in range(1, count + 1)]
    return forged(piece, "split", where={"on": "bar", "datum": "end", "offset": 120}, children=names)


def members(piece):
    return [piece.branch(name) for name in piece.groups["arms"]]


def shape(branch):
    """Return what a member is made as, without its name, the bar it came from, and where it hangs."""
    segments = tuple(replace(one, origin=(), shift=None) for one in branch.segments)
    return segments, tuple((one.name, one.at) for one in branch.marks)


def without_hand(branch):
    """Return the shape of a member with its hand left out."""

    def handless(one):
        path = replace(one.path, turn=1) if isinstance(one.path, Arc | Spiral) else one.path
        return replace(one, twist=abs(one.twist), path=path)

    segments, marks = shape(branch)
    return tuple(handless(one) for one in segments), marks


def assert_alike(first, other):
    assert len(first) == len(other)
    for one, two in zip(first, other, strict=True):
        assert two.length == pytest.approx(one.length, abs=1e-9)
        assert two.start.is_close(one.start)
        assert two.end.is_close(one.end)
        assert (two.path.kind, two.treatment, two.texture) == (one.path.kind, one.treatment, one.texture)
        assert getattr(two.path, "turn", 0) == getattr(one.path, "turn", 0)
        assert two.twist == pytest.approx(one.twist, abs=1e-12)


@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("operation", WORK)
def test_a_step_on_a_group_is_done_on_each_member_alike(operation, count):
    piece = arms(count)
    frame = tried(piece, operation, heats=1, scale=0.05, **WORK[operation])
    assert frame.status == "done", [one.text() for one in frame.findings]
    first, *others = members(frame.after)
    assert len(others) == count - 1
    assert shape(first)[0] != shape(members(piece)[0])[0]
    for other in others:
        assert_alike(shape(first)[0], shape(other)[0])
    assert abs(frame.after.imbalance) < 1e-6
    assert frame.members == count
    assert frame.heats == count


@pytest.mark.parametrize("count", COUNTS)
@pytest.mark.parametrize("operation", MIRRORED)
def test_every_second_member_of_a_mirrored_group_differs_in_its_hand_only(operation, count):
    after = forged(arms(count), operation, mirrored=True, **MIRRORED[operation])
    plain = forged(arms(count), operation, **MIRRORED[operation])
    for index, (one, straight) in enumerate(zip(members(after), members(plain), strict=True)):
        hands = [(seg.twist, getattr(seg.path, "turn", 0)) for seg in one.segments]
        usual = [(seg.twist, getattr(seg.path, "turn", 0)) for seg in straight.segments]
        assert (hands == usual) == (index % 2 == 0)
        assert_alike(without_hand(one)[0], without_hand(straight)[0])


@pytest.mark.parametrize("count", COUNTS)
def test_scale_is_lost_as_often_as_there_are_members(count):
    lost = tried(arms(count), "draw_out", heats=2, scale=0.05, **WORK["draw_out"]).after.lost("scale")
    depth = 0.05 * 2 * 2  # two heats, from both sides
    assert lost == pytest.approx(count * 60 * (64 - (8 - depth) ** 2), rel=1e-6)


@pytest.mark.parametrize("count", COUNTS)
def test_heats_of_a_whole_procedure_count_every_member(count):
    names = [f"arm {number}" for number in range(1, count + 1)]
    made = trial(
        step("split", where={"on": "bar", "datum": "end", "offset": 120}, children=names, heats=3),
        step("taper", heats=2, **WORK["taper"]),
        section={"shape": "flat", "width": 8 * count, "thickness": 8},
    )
    done = replay(read(made)).part("bar")
    assert done.is_complete
    assert done.heats == 3 + 2 * count


def test_angles_may_differ_within_a_group():
    after = forged(arms(3), "open_split", on="arms", angles=[40, 0, -40])
    assert [one.attached.angle for one in members(after)] == [40, 0, -40]
    assert_alike(shape(members(after)[0])[0], shape(members(after)[2])[0])
