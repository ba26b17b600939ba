"""What a bar must be: by hand, fed forward again, and refused in words where there is none."""

import pytest

from procedures.engine.document import read
from procedures.engine.replay import replay_part
from procedures.stock.explaining import kept
from procedures.stock.solving import NoStock, solve
from procedures.stock.target import Target
from procedures.stock.unknown import NoSuchSize, Unknown, step_unknowns
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .asking import a_bar, fed_forward, round_, square, why_not

DRAWN = read(a_document(a_part(drawn_out(heats=2)), scale={"fire": "coke"}))  # 60 of □20 x 300 to □12
EXACT = 1e-6


def test_length_without_scale_is_the_sum_worked_by_hand():
    found = solve(DRAWN, "bar", Target("length", 500, "bar"), Unknown(), nominal=True)
    assert found.typical.value == pytest.approx(500 - 60 * 20**2 / 12**2 + 60, abs=EXACT)
    assert (found.low, found.high) == (None, None)


def test_little_scale_takes_less_bar_than_much():
    found = solve(DRAWN, "bar", Target("length", 500, "bar"), Unknown())
    assert found.low.value < found.typical.value < found.high.value
    assert found.range == (found.low.value, found.high.value)


@pytest.mark.parametrize("estimate", ["low", "typical", "high"])
@pytest.mark.parametrize(
    ("target", "unknown"),
    [
        (Target("length", 500, "bar"), Unknown()),
        (Target("length", 500, "bar"), Unknown("size")),
        (Target("mass", 0.8), Unknown()),
        (Target("length", 320, "bar"), Unknown("step", "s1", ("where", "length"))),
    ],
)
def test_what_is_solved_gives_the_target_when_it_is_fed_forward(target, unknown, estimate):
    found = solve(DRAWN, "bar", target, unknown)
    solved = getattr(found, estimate)
    assert fed_forward(DRAWN, target, unknown, solved.value, estimate=estimate) == pytest.approx(
        target.value, abs=EXACT
    )


def test_section_after_a_step_gives_the_bar_it_takes():
    upset = a_step("upset", where={"on": "bar", "datum": "end", "length": 60}, final_length=40)
    document = a_bar(upset, section=square(20), length=300)
    found = solve(document, "bar", Target("thickness", 30, step="s1"), Unknown("size"), nominal=True)
    assert found.typical.value == pytest.approx(30 * (40 / 60) ** 0.5, abs=EXACT)


def test_kerf_of_a_saw_cut_and_the_offcut_come_in():
    cut = a_step(
        "cut_off", at={"on": "bar", "datum": "start", "offset": 50}, keep="end", method="saw", kerf=2
    )
    document = a_bar(cut, section=square(20), length=300)
    planned = replay_part(document, "bar").final.root.length
    found = solve(document, "bar", Target("length", 200, "bar"), Unknown(), nominal=True)
    assert found.typical.value == pytest.approx(300 + 200 - planned, abs=EXACT)


def test_slug_of_a_punched_hole_comes_in():
    punch = a_step("punch", where=[{"on": "bar", "datum": "end", "offset": 30}], size=8)
    document = a_bar(punch, section=square(20), length=300)
    slug = replay_part(document, "bar", nominal=True).final.lost("slug")
    assert slug > 0
    found = solve(document, "bar", Target("mass", 1.0), Unknown(), nominal=True)
    assert found.typical.value == pytest.approx((1e9 / 7850 + slug) / 400, abs=1e-4)


def test_welding_heats_make_a_ring_take_more_bar():
    ring = a_step("weld_ring", on="bar", zone=25) | {"welding_heats": 2}
    document = a_bar(ring, section=round_(12), length=400)
    target = Target("ring", 100, "bar")
    found = solve(document, "bar", target, Unknown())
    nominal = solve(document, "bar", target, Unknown(), nominal=True)
    assert nominal.typical.value < found.typical.value
    assert fed_forward(document, target, Unknown(), found.typical.value) == pytest.approx(100, abs=EXACT)


# -- none, or more than one --------------------------------------------------------------------------


def test_step_that_settles_the_size_is_named():
    cut = a_step("cut_off", at={"on": "bar", "datum": "end", "offset": 100}, keep="end", method="hot_cut")
    document = a_bar(cut, drawn_out(heats=1), section=square(20), length=300)
    found = why_not(document, Target("length", 250, "bar"))
    assert (found.step, found.number) == ("s1", 1)
    assert "step 1, cut off" in str(found.said)


def test_size_beyond_what_a_step_needs_names_that_step_and_the_nearest():
    found = why_not(DRAWN, Target("length", 150, "bar"))
    assert (found.step, found.number) == ("s1", 1)
    assert "draw out" in str(found.said)
    assert "The nearest that can be worked is 60\u202fmm, which gives 164" in str(found.hint)


def test_length_longer_than_any_bar_is_refused():
    with pytest.raises(NoStock) as fault:
        solve(DRAWN, "bar", Target("length", 5e6, "bar"), Unknown())
    assert fault.value.why in ("limit", "stopped")


def test_size_that_is_not_on_the_piece_is_refused():
    assert "not there" in str(why_not(DRAWN, Target("ring", 50, "bar")).said)
    assert "not there" in str(why_not(DRAWN, Target("length", 50, "arm")).said)


def test_part_that_stops_whatever_the_bar_names_its_step():
    away = a_step("draw_out", where={"on": "bar", "datum": "mark", "mark": "Z"}, target=square(12))
    found = why_not(a_bar(away, section=square(20), length=300), Target("length", 500, "bar"))
    assert found.number == 1
    assert "There is no mark Z" in str(found.said)


def test_second_root_of_a_bent_response_is_told():
    class Bent(Target):
        def measured(self, part):
            return (part.part.length - 300) ** 2 / 100 + 100

    found = solve(DRAWN, "bar", Bent("length", 149, "bar"), Unknown(), nominal=True)
    roots = sorted((found.typical.value, *found.typical.others))
    assert roots == pytest.approx([230, 370], abs=1e-4)
    assert not found.typical.straight


def test_response_that_jumps_past_the_target_is_no_root():
    class Jump(Target):
        def measured(self, part):
            return 100.0 if part.part.length < 310 else 200.0 + part.part.length / 1e3

    with pytest.raises(NoStock):
        solve(DRAWN, "bar", Jump("length", 150, "bar"), Unknown(), nominal=True)


@pytest.mark.parametrize("unknown", [Unknown("step", "s9", ("where",)), Unknown("step", "s1", ("target",))])
def test_unknown_that_is_not_there_is_refused(unknown):
    with pytest.raises(NoSuchSize):
        solve(DRAWN, "bar", Target("length", 500, "bar"), unknown)


# -- what stays --------------------------------------------------------------------------------------


def test_marks_and_ranges_keep_their_distance_from_the_end():
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}])
    document = a_bar(marked, drawn_out(heats=0), section=square(20), length=300)
    found = solve(document, "bar", Target("length", 500, "bar"), Unknown(), nominal=True)
    frames = found.typical.trial.replayed.frames
    branch = frames[0].after.root
    assert branch.length - branch.mark("A").at == pytest.approx(60)
    assert frames[1].worked[0].length == pytest.approx(60)
    said = [str(one.said) for one in kept(found.typical.trial.replayed)]
    assert said == ["mark A, 60\u202fmm from the end of bar", "the last 60\u202fmm of the bar"]


def test_lengths_that_a_step_is_given_can_be_solved_for():
    found = [one.path for one in step_unknowns(DRAWN.part("bar"), "s1")]
    assert found == [("where", "length")]
    sizes = [one.path for one in step_unknowns(DRAWN.part("bar"), "s1", sections=True)]
    assert ("target", "side") in sizes


def test_straight_response_takes_few_replays():
    found = solve(DRAWN, "bar", Target("length", 500, "bar"), Unknown())
    assert found.typical.straight
    assert found.replays <= 9
