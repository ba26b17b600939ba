"""Whatever an operation makes of a piece, its patterns can be laid out, written and put on paper."""

import math
from xml.etree import ElementTree as ET

import pytest

from calculators.wording import METRIC
from procedures.engine.catalogue import catalogue
from procedures.engine.document import Document
from procedures.engine.exampling import frames
from procedures.engine.replay import PartReplay, Replay
from procedures.full_size import offered, page_svg, pattern_svg, preview_svg, sheets_of
from tests.unit.engine.documents import a_step

from .laying import bent, laid_out, lines, marked, words


@pytest.mark.parametrize("kind", catalogue().values(), ids=lambda one: one.id)
def test_patterns_of_every_example_are_sound(kind):
    for example in kind.examples:
        done = tuple(frames(kind, example))
        part = done[0].part
        replayed = Replay(
            Document(example.title, (part,)), False, "typical", (PartReplay(part, example.before, done),)
        )
        found = offered(replayed, part.key, METRIC)
        for pattern in found.patterns:
            assert all(math.isfinite(value) for value in pattern.box), pattern.key
            ET.fromstring(pattern_svg(pattern))  # noqa: S314 - our own drawing
            ET.fromstring(preview_svg(pattern, pattern.title))  # noqa: S314
        made = sheets_of([one for one in found.patterns if one.chosen], "A4", "stacked")
        for sheet in made.sheets:
            ET.fromstring(page_svg(sheet, made.paper, inches=True))  # noqa: S314


def test_scroll_of_five_turns_is_one_template():
    rolled = a_step("scroll", on="bar", end="end", inner=8, outer=80, turns=5)
    pattern = laid_out(rolled, side=4, length=2000).pattern("scroll-1")
    assert "5 turns" in pattern.title
    assert pattern.width < 260
    assert len(pattern_svg(pattern)) < 200_000


def test_small_feature_on_a_long_bar_is_one_sheet():
    drilled = a_step("drill", where=[{"on": "bar", "datum": "start", "offset": 2990}], size=3)
    found = laid_out(drilled, side=12, length=6000)
    made = sheets_of([found.pattern("strip"), found.pattern("holes-1")], "A4", "stacked")
    assert len(made.sheets) == 1


def test_two_hundred_steps_are_all_marked():
    """Names that cannot stand beside each other are thinned out; every mark is still struck."""
    steps = [marked(5 + 1.4 * index) for index in range(100)]
    for index, one in enumerate(steps):
        one["params"]["marks"][0]["name"] = f"M{index}"
    pattern = laid_out(*steps, length=300).pattern("strip")
    ticks = {round(one.spots[0][0], 3) for one in lines(pattern, "marks") if len(one.spots) == 2}
    assert all(round(5 + 1.4 * index, 3) in ticks for index in range(100))
    assert {f"M{index}" for index in range(100)} <= set(words(pattern))


def test_template_is_the_same_for_the_other_hand():
    up, down = (laid_out(bent(turn=turn), side=12).pattern("bend-1") for turn in ("up", "down"))
    pairs = zip(lines(up, "outline")[0].spots, lines(down, "outline")[0].spots, strict=True)
    assert max(math.dist(*pair) for pair in pairs) < 1e-4
