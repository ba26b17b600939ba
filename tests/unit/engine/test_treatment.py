"""What heat treatment leaves steel as, what later heat takes of it, and the steel's own heats."""

import pytest

from calculators.sections import Section
from procedures.engine.document import read
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.treatment import UNTREATED, Treatment
from procedures.engine.replay import replay
from procedures.engine.trial import at, end, part, square, step, trial, trials, whole
from procedures.report import lines, report

from .forging import forged, refused, tried


def states(piece, branch="bar"):
    """Return (length, what is said of it) for each segment."""
    found = piece.branch(branch).segments
    return [(round(one.length, 3), " ".join(one.treatment.said.text().split())) for one in found]


def codes(frame):
    return [one.code for one in frame.findings]


def chisel():
    return bar(Section.square(14), 180, material_id="high_carbon")


def hardened(length=50):
    return forged(chisel(), "harden", where=end(length))


# -- what is remembered ------------------------------------------------------------------------------


def test_a_bar_from_the_rack_is_untreated():
    assert not bar(Section.square(12), 100).root.segments[0].treatment
    assert UNTREATED.said.text() == "as forged"


def test_only_the_run_that_is_quenched_is_hard():
    assert states(hardened()) == [(130, "as forged"), (50, "hard")]


def test_tempering_a_longer_run_changes_the_hard_metal_only():
    piece = forged(hardened(), "temper", where=end(80), temperature=250)
    assert [one for one, _ in states(piece)] == [100, 30, 50]
    assert [one for _, one in states(piece)] == ["as forged", "as forged", "tempered at 250 °C"]


def test_a_lower_heat_does_not_bring_hardness_back():
    piece = forged(hardened(), "temper", where=end(50), temperature=290)
    piece = forged(piece, "temper", where=end(50), temperature=220)
    assert piece.root.segments[-1].treatment == Treatment("tempered", 290)


def test_softening_and_normalising_say_so():
    assert states(forged(hardened(), "anneal", where=whole()))[-1][1] == "soft"
    assert states(forged(hardened(), "normalise", where=whole()))[0][1] == "normalised"


def test_a_case_is_as_deep_as_its_hours():
    """Harris: 0.63 mm in an hour at 925 °C, 1.26 in four."""
    mild = bar(Section.square(12), 100)
    once = forged(mild, "case_harden", where=whole(), temperature=925, hours=1)
    assert once.root.segments[0].treatment.case == pytest.approx(0.63, abs=0.005)
    again = forged(once, "case_harden", where=whole(), temperature=925, hours=3)
    assert again.root.segments[0].treatment.case == pytest.approx(1.26, abs=0.005)


def test_a_case_can_be_hardened_where_the_steel_cannot():
    mild = bar(Section.square(12), 100)
    assert refused(mild, "harden", where=whole()) == ["harden.too_little_carbon"]
    cased = forged(mild, "case_harden", where=end(40), quench="none")
    assert refused(cased, "harden", where=whole()) == ["harden.too_little_carbon"]
    assert forged(cased, "harden", where=end(40)).root.segments[-1].treatment.is_hard


def test_marks_and_splits_keep_the_treatment():
    piece = forged(hardened(), "mark_out", marks=[{"name": "A", **at(20)}])
    assert piece.root.segments[-1].treatment.is_hard
    assert piece.root.segments[-1].cut(10)[0].treatment.is_hard


# -- what heat takes of it ---------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("was", "heat", "left"),
    [
        (Treatment("hard"), 100, Treatment("hard")),
        (Treatment("hard"), 200, Treatment("tempered", 200)),
        (Treatment("tempered", 250), 200, Treatment("tempered", 250)),
        (Treatment("tempered", 250), 400, Treatment("tempered", 400)),
        (Treatment("hard", case=1, coat="waxed"), 900, Treatment(case=1)),
        (Treatment("soft", coat="waxed"), 290, Treatment("soft", coat="waxed")),
        (Treatment("soft", coat="waxed"), 310, Treatment("soft")),
        (UNTREATED, 1200, UNTREATED),
    ],
)
def test_heat(was, heat, left):
    assert was.heated_to(heat) == left


def test_forging_over_it_loses_it_and_says_so():
    frame = tried(hardened(), "draw_out", where=end(30), target=square(10))
    assert codes(frame).count("shape.treatment_lost") == 1
    found = next(one for one in frame.findings if one.code == "shape.treatment_lost")
    assert "hard" in found.text()
    assert [one for _, one in states(frame.after)] == ["as forged", "hard", "as forged"]


def test_bending_hot_loses_it_where_it_is_hot():
    piece = forged(hardened(100), "bend", where=at(50), angle=90, inside_radius=20)
    assert [one for _, one in states(piece)].count("hard") == 2


def test_cold_work_keeps_it():
    frame = tried(hardened(), "file", where=end(20), depth=0.2)
    assert "shape.treatment_lost" not in codes(frame)
    assert frame.after.root.segments[-1].treatment.is_hard


def test_forging_beside_it_keeps_it():
    frame = tried(
        hardened(), "draw_out", where={"on": "bar", "datum": "start", "length": 40}, target=square(12)
    )
    assert "shape.treatment_lost" not in codes(frame)
    assert len(frame.before.root.segments) == 2


def test_a_warmed_coat_lets_hard_steel_down():
    frame = tried(hardened(), "finish", where=whole(), coat="blacken")
    assert "shape.treatment_lost" in codes(frame)
    assert frame.after.root.segments[-1].treatment == Treatment("tempered", 250, coat="oil-blackened")
    cold = tried(hardened(), "finish", where=whole(), coat="paint")
    assert "shape.treatment_lost" not in codes(cold)
    assert cold.after.root.segments[-1].treatment == Treatment("hard", coat="painted")


def test_hardening_again_is_no_loss_but_burns_a_coat_off():
    again = tried(hardened(), "harden", where=end(50))
    assert "shape.treatment_lost" not in codes(again)
    coated = forged(chisel(), "finish", where=whole(), coat="oil")
    assert "shape.treatment_lost" in codes(tried(coated, "harden", where=end(50)))


# -- what it costs -----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("operation", "params"),
    [("temper", {"temperature": 300}), ("finish", {"coat": "wax"}), ("finish", {"coat": "paint"})],
)
def test_what_is_done_below_a_red_heat_takes_no_scale(operation, params):
    frame = tried(hardened(), operation, where=whole(), heats=1, scale=0.05, **params)
    assert frame.lost == 0


def test_a_hardening_heat_takes_less_scale_than_a_forging_heat():
    hardening = tried(chisel(), "harden", where=end(50), heats=1, scale=0.1)
    forging = tried(chisel(), "heat", where=end(50), heats=1, scale=0.1)
    assert 0 < hardening.lost < 0.3 * forging.lost


# -- the steel's own heats ---------------------------------------------------------------------------


def test_usual_heat_that_burns_the_steel_is_cautioned_and_shown_lower():
    frame = tried(chisel(), "upset", where=end(30), target=square(16))
    assert "material.too_hot" in codes(frame)
    assert frame.operation.planned_heat(frame.before) == (1000, 1100)


def test_usual_heat_of_mild_steel_is_left_alone():
    frame = tried(bar(Section.square(14), 180), "upset", where=end(30), target=square(16))
    assert "material.too_hot" not in codes(frame)
    assert frame.operation.planned_heat(frame.before) == frame.operation.heat


@pytest.mark.parametrize(("temperature", "blue"), [(300, True), (700, False)])
def test_forging_heat_below_the_band_is_cautioned(temperature, blue):
    frame = tried(bar(Section.square(14), 180), "heat", where=end(50), temperature=temperature)
    found = next(one for one in frame.findings if one.code == "material.too_cold")
    assert ("blue heat" in found.text()) is blue


# -- the report --------------------------------------------------------------------------------------


def test_the_report_shows_the_state():
    steel = {**part(step("harden", where=end(50)), step("temper", where=end(50))), "material": "high_carbon"}
    replayed = replay(read(trials(steel)))
    segments = report(replayed)["parts"][0]["steps"][-1]["branches"][0]["segments"]
    assert segments[0]["treatment"] is None
    assert segments[-1]["treatment"] == {"state": "tempered", "tempered_at": 250, "case": 0, "coat": ""}
    assert any(" ".join(one.split()).endswith("tempered at 250 °C") for one in lines(replayed))


def test_the_report_of_what_was_never_treated_says_nothing_of_it():
    replayed = replay(read(trial(step("draw_out", where=end(60), target=square(10)))))
    segments = report(replayed)["parts"][0]["steps"][0]["branches"][0]["segments"]
    assert [one["treatment"] for one in segments] == [None, None]


# -- what goes with the metal ------------------------------------------------------------------------


def cased(hours=4.0, **where):
    return forged(bar(Section.square(12), 120), "case_harden", where=where or whole(), hours=hours)


def cases(piece):
    return [(round(one.length, 2), round(one.treatment.case, 3)) for one in piece.root.segments]


def test_a_case_goes_with_metal_that_is_drawn_out_and_gets_thinner_with_its_skin():
    before, to = cased(), {"shape": "square", "side": 10}
    after = forged(before, "draw_out", where=end(50), target=to)
    (_, deep), (drawn, left) = cases(after)
    assert drawn == 72.0
    assert left == pytest.approx(deep * 12 * 50 / (10 * 72), abs=1e-3)  # as much skin more, as much less deep


def test_a_run_cased_in_part_is_cut_where_the_case_ends():
    before = cased(on="bar", datum="end", length=30)
    after = forged(before, "taper", where=end(60), end_section={"shape": "square", "side": 4})
    lengths = [length for length, _ in cases(after)]
    assert [case > 0 for _, case in cases(after)] == [False, False, True]
    half = after.root.segments[2].volume / (after.root.segments[1].volume + after.root.segments[2].volume)
    assert half == pytest.approx(0.5)
    assert lengths[1] + lengths[2] == pytest.approx(3 * 60 * 144 / (144 + 48 + 16), abs=0.02)


def test_a_coat_goes_with_what_is_bent_cold():
    before = forged(bar(Section.square(8), 200), "finish", where=whole(), coat="wax")
    after = forged(before, "straighten", where=whole(), cold=True)
    assert {one.treatment.coat for one in after.root.segments} == {before.root.segments[0].treatment.coat}


def test_scale_takes_as_much_of_a_case_as_of_the_metal():
    (_, deep), *_ = cases(cased())
    after = forged(cased(), "heat", where=whole(), heats=2, scale=0.1)
    assert cases(after)[0][1] == pytest.approx(deep - 0.2, abs=1e-3)


def test_a_welding_heat_undoes_a_case_and_says_so():
    assert Treatment("hard", case=1.1).heated_to(1300) == UNTREATED
    frame = tried(cased(), "fold_back", on="bar", flap=40)
    assert frame.after.root.segments[-1].treatment.case > 0, [one.text() for one in frame.findings]
    frame = tried(frame.after, "weld_fold", on="bar", dressed={"shape": "square", "side": 13}, welds=2)
    assert "shape.treatment_lost" in codes(frame), [one.text() for one in frame.findings]


def test_filing_through_a_case_is_warned_of_and_leaves_none():
    (_, deep), *_ = cases(cased())
    shallow = tried(cased(), "file", where=end(50), depth=0.3, face="all")
    assert "file.through_case" not in codes(shallow)
    assert cases(shallow.after)[-1][1] == pytest.approx(deep - 0.3, abs=1e-3)
    through = tried(cased(), "file", where=end(50), depth=1.5, face="all")
    assert "file.through_case" in codes(through)
    assert cases(through.after)[-1][1] == 0
    down = tried(cased(), "file", where=end(50), section={"shape": "square", "side": 9})
    assert "file.through_case" in codes(down)
    assert cases(down.after)[-1][1] == 0
