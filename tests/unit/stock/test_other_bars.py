"""The same procedure on another bar: its metal, what changes, limits of rolled bar, and what matters most."""

import pytest

from calculators.bar_sizes import StockBar, limits, stock_bars
from calculators.sections import Section
from procedures.engine.replay import replay_part
from procedures.stock.choosing import choice, near
from procedures.stock.rebasing import changes, rebased
from procedures.stock.target import Target
from procedures.stock.tolerance import effects, spread
from tests.unit.engine.documents import a_step, drawn_out

from .asking import a_bar, square

MARKED = a_bar(
    a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}]),
    a_step("draw_out", where={"on": "bar", "datum": "mark", "mark": "A"}, target=square(8)),
    section=square(12),
    length=300,
)


def test_same_metal_is_reached_round_on_another_bar():
    changed = rebased(MARKED, "bar", Section.square(10), same_metal=True, nominal=True).part("bar")
    times = 12**2 / 10**2
    assert changed.length == pytest.approx(300 * times)
    assert changed.steps[0].params["marks"][0]["offset"] == pytest.approx(60 * times)


def test_drawn_end_is_as_long_of_the_same_metal():
    other = rebased(MARKED, "bar", Section.square(10), same_metal=True, nominal=True)
    frames = [replay_part(one, "bar", nominal=True).frames[1] for one in (MARKED, other)]
    ends = [one.after.worked[0].length for one in frames]
    assert ends[0] == pytest.approx(60 * 12**2 / 8**2)
    assert ends[1] == pytest.approx(ends[0])


@pytest.mark.parametrize(
    "where",
    [
        {"on": "bar", "datum": "start", "offset": 20.0, "length": 40.0},
        {"on": "bar", "datum": "end", "offset": 20.0, "length": 40.0},
        {"on": "bar", "datum": "centre", "length": 40.0},
    ],
)
def test_every_way_to_say_a_range_is_moved_with_its_metal(where):
    document = a_bar(a_step("draw_out", where=where, target=square(8)), section=square(12), length=300)
    changed = rebased(document, "bar", Section.square(10), same_metal=True, nominal=True)
    old, new = (replay_part(one, "bar", nominal=True) for one in (document, changed))
    for side in ("low", "high"):
        share = getattr(old.frames[0].worked[0], side) / 300
        assert getattr(new.frames[0].worked[0], side) == pytest.approx(share * 300 * 1.44)


def test_steps_stay_as_they_are_where_distances_are_kept():
    changed = rebased(MARKED, "bar", Section.square(10), same_metal=False)
    assert changed.part("bar").steps == MARKED.part("bar").steps
    assert changed.part("bar").length == 300


def test_what_changes_is_told_step_by_step_and_a_stop_is_told():
    thin = rebased(MARKED, "bar", Section.square(7), same_metal=False, nominal=True)
    old, new = (replay_part(one, "bar", nominal=True) for one in (MARKED, thin))
    found = list(changes(old, new))
    assert [one.frame.number for one in found] == [1, 2]
    assert found[1].is_stopped
    assert [str(one.code) for one in found[1].findings] == ["draw_out.target_not_thinner"]
    assert not any(one.is_stopped for one in changes(old, old))
    assert all(one.is_same for one in changes(old, old))


# -- bars as they are sold ---------------------------------------------------------------------------


def test_limits_are_those_of_the_standards():
    """EN 10059, 10058 and 10061 as the British Stainless Steel Association sums them up."""
    cases = [
        (Section.square(12), Section.square(12 - 0.4), Section.square(12 + 0.4)),
        (Section.square(25), Section.square(25 - 0.5), Section.square(25 + 0.5)),
        (Section.square(30), Section.square(30 - 0.6), Section.square(30 + 0.6)),
        (Section.square(50), Section.square(50 - 0.8), Section.square(50 + 0.8)),
        (Section.hexagon(20.5), Section.hexagon(20.5 - 0.5), Section.hexagon(20.5 + 0.5)),
        (Section.flat(40, 8), Section.flat(40 - 0.75, 8 - 0.5), Section.flat(40 + 0.75, 8 + 0.5)),
        (Section.flat(80, 25), Section.flat(80 - 1, 25 - 1), Section.flat(80 + 1, 25 + 1)),
    ]
    for section, least, most in cases:
        found = limits(section)
        assert found is not None
        assert found[0].is_close(least)
        assert found[1].is_close(most)


def test_no_limits_are_made_up_for_other_sections():
    assert limits(Section.half_round(20)) is None
    assert limits(Section.tube(30, 2)) is None


@pytest.mark.parametrize("range_", ["en", "us"])
def test_bars_are_each_there_once(range_):
    found = [one.section for one in stock_bars(range_)]
    assert len(found) == len(set(found)) > 50


def test_nearest_bars_begin_with_the_plan_itself():
    assert near(Section.square(12), stock_bars("en"))[0].section == Section.square(12)
    inches = near(Section.square(3 / 8 * 25.4), stock_bars("us"))
    assert inches[0].section.is_close(Section.square(3 / 8 * 25.4))


def test_choice_of_a_thinner_bar_is_longer_and_weighs_its_waste():
    target = Target("length", 400, "bar")
    document = a_bar(drawn_out(side=8, heats=0), section=square(12), length=300)
    thick, thin = (
        choice(document, "bar", target, StockBar(Section.square(side), ""), nominal=True) for side in (12, 10)
    )
    assert thick.length == pytest.approx(400 - 60 * 144 / 64 + 60)
    assert thin.length > thick.length
    assert thin.gives == pytest.approx(400, abs=1e-6)
    assert thick.waste == pytest.approx(0)
    assert thick.mass == pytest.approx(thick.length * 144 * 7850e-9)
    assert "upset" in str(thin.work)


def test_bar_that_cannot_do_it_says_at_which_step():
    found = choice(MARKED, "bar", Target("length", 400, "bar"), StockBar(Section.square(7), ""), nominal=True)
    assert found.length is None
    assert str(found.why).startswith("Step 2, Draw out:")


# -- tolerance ---------------------------------------------------------------------------------------


def test_limits_of_the_bar_are_carried_through():
    found = spread(MARKED, "bar", Target("length", 0, "bar"), nominal=True)
    assert found.thin == pytest.approx(240 + 60 * 11.6**2 / 8**2)
    assert found.thick == pytest.approx(240 + 60 * 12.4**2 / 8**2)


def test_thickness_of_what_is_drawn_matters_most():
    found = effects(MARKED, "bar", Target("length", 0, "bar"), nominal=True)
    assert [round(one.change, 6) for one in found[:2]] == [
        round(60 * 144 * (1 / 8.5**2 - 1 / 8**2), 6),
        round(60 * (12.5**2 - 12**2) / 64, 6),
    ]
    assert found[0].step == 2
    assert found[1].step == 0
