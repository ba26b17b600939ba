"""What cannot be described so, and where the words stand."""

import pytest

from calculators.sections import Section
from procedures.drafting.description import Description
from procedures.drafting.drafting import drafted
from procedures.drafting.refusing import Undraftable

from .describing import POINT, described, feature, square, stem

EYE = ("eye", {"inside_diameter": 20})
SCROLL = ("scroll", {"inner": 7, "outer": 25, "turns": 1})
TAPER = ("taper", {"length": 80, "to": POINT})
REFUSED = [
    ("eye and scroll at one end", [stem(60), EYE, SCROLL], 1, "", "One end cannot be both"),
    ("eye in the middle", [stem(60), EYE, stem(60)], 1, "", "put it first or last"),
    ("an end alone", [EYE], 0, "", "add a stem"),
    ("two ends without a stem", [EYE, SCROLL], 1, "", "Put a stem between"),
    (
        "hole in a point",
        [stem(60), TAPER, ("hole", {"distance": 70, "size": 6})],
        2,
        "size",
        "no wall is left",
    ),
    ("hole beyond its run", [stem(60), ("hole", {"distance": 70, "size": 6})], 1, "distance", "beyond it"),
    ("hole in an eye", [stem(60), EYE, ("hole", {"distance": 7, "size": 3})], 2, "", "no plain face"),
    ("hole before all", [("hole", {"distance": 7, "size": 3}), stem(60)], 0, "", "after the run"),
    ("bend at an end", [stem(60), ("bend", {"inside_radius": 9})], 1, "", "on one side only"),
    ("corner at an end", [("corner", {}), stem(60)], 0, "", "on one side only"),
    (
        "two corners in one place",
        [stem(60), ("corner", {}), ("corner", {}), stem(60)],
        1,
        "",
        "Put a run between",
    ),
    ("ring with a stem", [("ring", {"inside_diameter": 90}), stem(60)], 0, "", "by itself"),
    ("taper that ends in nothing said", [stem(60), ("taper", {"length": 80})], 1, "to", "what it tapers to"),
    ("taper between equals", [stem(60), ("taper", {"length": 80}), stem(60)], 1, "to", "nothing to taper"),
    ("thin knob", [stem(60), ("knob", {"section": square(12), "length": 9})], 1, "section", "call it a stem"),
    ("thick tenon", [stem(60), ("tenon", {"section": square(12), "length": 9})], 1, "section", "no shoulder"),
    ("small head", [stem(60), ("head", {"size": 12, "height": 9})], 1, "size", "no larger"),
    ("thick tip", [stem(60), ("hook", {"inside_diameter": 30, "tip": square(12)})], 1, "tip", "not thinner"),
    (
        "weld without a seat",
        [stem(60), ("eye", {"inside_diameter": 30, "made": "welded"})],
        1,
        "seat",
        "how long",
    ),
    ("step between equals", [stem(60), ("shoulder", {}), stem(60)], 1, "", "no step"),
    (
        "scroll that closes",
        [stem(60), ("scroll", {"inner": 30, "outer": 7, "turns": 1})],
        1,
        "outer",
        "outward",
    ),
    (
        "square drilled",
        [stem(60), ("hole", {"distance": 9, "size": 3, "way": "drill", "shape": "square"})],
        1,
        "shape",
        "no square hole",
    ),
    # what only the replay knows is told beside its feature too
    (
        "coils in each other",
        [stem(60), ("scroll", {"inner": 8, "outer": 20, "turns": 3})],
        1,
        "turns",
        "Scroll:",
    ),
    (
        "wide leaf of thick metal",
        [stem(60), ("leaf", {"length": 30, "width": 11, "thickness": 9})],
        1,
        "width",
        "no wider",
    ),
]


@pytest.mark.parametrize(
    ("run", "number", "field", "words"), [r[1:] for r in REFUSED], ids=[r[0] for r in REFUSED]
)
def test_it_is_refused_in_words_beside_the_field(run, number, field, words):
    with pytest.raises(Undraftable) as fault:
        drafted(described(*run))
    found = [(one.number, one.field) for one in fault.value.refusals]
    assert (number, field) in found
    assert words in str(fault.value)


def test_a_round_twist_is_refused():
    run = [stem(60), ("twist", {"length": 60, "turns": 1}), stem(60)]
    with pytest.raises(Undraftable, match="give it edges"):
        drafted(described(*run, bar=Section.round(12)))


def test_without_a_bar_it_is_the_thickest_stem():
    features = (feature(*stem(60, section=square(10))), feature(*stem(60, section=square(14))))
    assert drafted(Description(features)).layout.bar == Section.square(14)


def test_without_any_section_the_bar_is_asked_for():
    with pytest.raises(Undraftable, match="Say what bar") as fault:
        drafted(Description((feature(*stem(60)),)))
    assert fault.value.refusals[0].field == "bar"


def test_nothing_described_is_refused():
    with pytest.raises(Undraftable, match="at least one stem"):
        drafted(described())


@pytest.mark.parametrize(
    "bar", [Section.point(), Section.edge(10), Section.tube(40, 4)], ids=["point", "edge", "tube"]
)
def test_what_is_no_bar_is_refused(bar):
    with pytest.raises(Undraftable, match="no bar to forge from"):
        drafted(described(stem(60), bar=bar))


def test_stem_without_metal_is_refused_at_its_section():
    with pytest.raises(Undraftable, match="no run of bar") as fault:
        drafted(described(stem(60), stem(40, section=POINT)))
    assert (fault.value.refusals[0].number, fault.value.refusals[0].field) == (1, "section")
