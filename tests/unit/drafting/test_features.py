"""How much bar each feature takes, reckoned by hand, in a fire that takes nothing."""

from math import pi

import pytest

from calculators.sections import Section
from procedures.drafting.catalogue import all_features
from procedures.drafting.drafting import drafted

from .describing import POINT, described, flat, rod, square, stem

BY_HAND = [
    ("stem", [stem(100)], 0, 100),
    ("thinner stem", [stem(100), stem(90, section=square(8))], 1, 90 * 64 / 144),
    ("thicker stem", [stem(100), stem(20, section=square(15))], 1, 20 * 225 / 144),
    ("flat stem, wider than the bar", [stem(100), stem(40, section=flat(18, 6))], 1, 40 * 108 / 144),
    ("knob", [stem(40), ("knob", {"section": square(15), "length": 12}), stem(40)], 1, 12 * 225 / 144),
    ("taper", [stem(60), ("taper", {"length": 90, "to": square(4)})], 1, 90 * (144 + 48 + 16) / 3 / 144),
    ("taper to a point", [stem(60), ("taper", {"length": 54, "to": POINT})], 1, 54 / 3),
    ("flattened", [("flat", {"width": 20, "thickness": 5, "length": 50}), stem(60)], 0, 50 * 100 / 144),
    ("twist", [stem(40), ("twist", {"length": 60, "turns": 1}), stem(40)], 1, 60),
    ("bend", [stem(60), ("bend", {"inside_radius": 10}), stem(60)], 1, pi / 2 * (10 + 6)),
    ("eye", [stem(100), ("eye", {"inside_diameter": 30})], 1, pi * (30 + 12)),
    (
        "welded eye",
        [stem(200), ("eye", {"inside_diameter": 30, "made": "welded", "seat": 50})],
        1,
        pi * (30 + 12) + 50,
    ),
    ("hook", [stem(100), ("hook", {"inside_diameter": 40, "sweep": 180})], 1, pi * (40 + 12) / 2),
    (
        "tapered hook: □8 half way round",
        [stem(100), ("hook", {"inside_diameter": 40, "sweep": 180, "tip": square(4)})],
        1,
        pi * (40 + 8) / 2 * (144 + 48 + 16) / 3 / 144,
    ),
    ("tenon", [stem(60), ("tenon", {"section": rod(8), "length": 25})], 1, 25 * pi * 16 / 144),
    ("head", [stem(60), ("head", {"form": "square", "size": 20, "height": 9})], 1, 9 * 400 / 144),
    ("leaf", [stem(60), ("leaf", {"length": 60, "width": 25, "thickness": 3})], 1, 2 / 3 * 25 * 3 * 60 / 144),
    (
        "fishtail",
        [stem(60), ("fishtail", {"length": 40, "width": 25, "thickness": 3})],
        1,
        # flat to flat: (w₀t₀ + (w₀ + w)(t₀ + t) + wt) / 6
        40 * (144 + 37 * 15 + 75) / 6 / 144,
    ),
]


@pytest.mark.parametrize(
    ("run", "number", "takes"), [one[1:] for one in BY_HAND], ids=[b[0] for b in BY_HAND]
)
def test_feature_takes_the_bar_reckoned_by_hand(run, number, takes):
    draft = drafted(described(*run))
    assert draft.rows[number].typical == pytest.approx(takes, abs=1e-6)
    assert draft.part.is_complete


@pytest.mark.parametrize("run", [one[1] for one in BY_HAND], ids=[one[0] for one in BY_HAND])
def test_every_size_comes_back_where_no_scale_is_lost(run):
    draft = drafted(described(*run))
    sizes = [size for row in draft.rows for size in row.sizes]
    assert sizes
    assert max(size.off for size in sizes) < 1e-6


def test_scroll_takes_its_spiral():
    # 7 to 32 in 1¾ turns: 216.1 of even bar, the exact arc length
    scroll = ("scroll", {"inner": 7, "outer": 32, "turns": 1.75})
    draft = drafted(described(stem(100), scroll, bar=Section.square(5)))
    assert draft.rows[1].typical == pytest.approx(216.1, abs=0.05)


def test_ring_takes_its_middle_line_where_no_scale_is_lost():
    draft = drafted(described(("ring", {"inside_diameter": 140}), bar=Section.square(16)))
    assert draft.rows[0].typical == pytest.approx(pi * (140 + 16), abs=1e-6)
    assert draft.rows[0].sizes[0].off < 1e-6


@pytest.mark.parametrize("way", ["punch", "slit_drift", "drill"])
def test_hole_lies_where_it_was_described_even_in_a_run_drawn_out(way):
    run = [stem(60), stem(100, section=flat(18, 6)), ("hole", {"distance": 40, "size": 6, "way": way})]
    draft = drafted(described(*run))
    assert draft.rows[2].sizes[0].off < 1e-6
    assert draft.rows[1].sizes[0].off < 1e-6


def test_corner_takes_no_bar():
    draft = drafted(described(stem(60), ("corner", {}), stem(50)))
    assert draft.bars["typical"] == pytest.approx(60 + 50 + 2)  # 2 for the saw


def test_shoulder_is_set_in_and_not_drawn_out():
    draft = drafted(described(stem(60), ("shoulder", {}), stem(50, section=square(9))))
    assert [one.operation for one in draft.document.parts[0].steps] == ["cut_off", "mark_out", "shoulder"]


def test_every_feature_is_tried_here():
    tried = {kind for one in BY_HAND for kind, _ in one[1]} | {"scroll", "ring", "hole", "corner", "shoulder"}
    assert tried == set(all_features())
