"""A material of the author's own: read and written back, refused with its path, and reckoned with."""

import json

import pytest
from jsonschema import Draft202012Validator

from procedures.engine.document import DocumentError, read, write
from procedures.engine.replay import replay
from procedures.engine.schema import schema
from procedures.engine.trial import end, part, square, step, trials
from procedures.report import lines, report

SPRING = {
    "title": "Spring steel",
    "density": 7800,
    "carbon": 0.55,
    "forging": [850, 1050],
    "welding": None,
    "burns_at": 1180,
}


def stored(material=None, *steps):
    steps = steps or (step("draw_out", where=end(60), target=square(10)),)
    return trials({**part(*steps), "material": SPRING if material is None else material})


def codes(replayed):
    return [one.code for one in replayed.parts[0].frames[0].findings]


@pytest.mark.parametrize(
    "more", [{}, {"welding": [1100, 1150]}, {"magnetic_to": 745}, {"note": "From an old leaf spring."}]
)
def test_it_comes_back_as_it_was(more):
    document = stored({**SPRING, **more})
    written = json.loads(json.dumps(write(read(document))))
    assert written["parts"][0]["material"] == {**SPRING, **more}
    assert read(written) == read(document)
    assert [one.message for one in Draft202012Validator(schema()).iter_errors(written)] == []


def test_one_without_a_word_of_welding_does_not_weld():
    bare = {key: value for key, value in SPRING.items() if key != "welding"}
    assert read(stored(bare)).parts[0].material.welding is None


@pytest.mark.parametrize(
    ("change", "fault", "words"),
    [
        ({"title": " "}, "title", "must not be empty"),
        ({"density": 100}, "density", "at least 1000"),
        ({"density": "heavy"}, "density", "number"),
        ({"carbon": 3.4}, "carbon", "at most 2"),
        ({"carbon": float("nan")}, "carbon", "ordinary number"),
        ({"forging": 900}, "forging", "list"),
        ({"forging": [900]}, "forging", "from and to"),
        ({"forging": [1050, 850]}, "forging/1", "above 1050 °C"),
        ({"forging": [850, 5000]}, "forging/1", "at most 1600"),
        ({"welding": [1200, 1100]}, "welding/1", "above 1200 °C"),
        ({"welding": [1100, 1200]}, "burns_at", "above its welding heat"),
        ({"burns_at": 1000}, "burns_at", "above its forging heat"),
        ({"magnetic_to": 20}, "magnetic_to", "at least 100"),
        ({"note": "x" * 201}, "note", "at most 200"),
        ({"colour": "blue"}, "colour", "no field"),
    ],
)
def test_a_fault_is_refused_with_its_path(change, fault, words):
    with pytest.raises(DocumentError) as refused:
        read(stored({**SPRING, **change}))
    assert refused.value.path == f"parts/0/material/{fault}"
    assert words in refused.value.message


@pytest.mark.parametrize("missing", ["title", "density", "carbon", "forging", "burns_at"])
def test_what_is_needed_is_missed(missing):
    with pytest.raises(DocumentError) as refused:
        read(stored({key: value for key, value in SPRING.items() if key != missing}))
    assert refused.value.path == f"parts/0/material/{missing}"


def test_cast_iron_is_not_among_the_known():
    with pytest.raises(DocumentError) as refused:
        read(stored("cast_iron"))
    assert refused.value.path == "parts/0/material"


def test_its_density_makes_its_mass():
    replayed = replay(read(stored()))
    assert replayed.parts[0].start.mass == pytest.approx(12 * 12 * 600 * 7800e-9)
    told = report(replayed)["parts"][0]
    assert (told["material"], told["material_title"]) == ("own", "Spring steel")
    assert any("spring steel" in one for one in lines(replayed))


def test_its_heats_are_checked():
    replayed = replay(read(stored()))
    assert "material.too_hot" in codes(replayed)
    assert "as its author gives it" in [one.source for one in replayed.parts[0].frames[0].findings]


def test_it_hardens_by_its_carbon():
    harden = step("harden", where=end(60))
    assert replay(read(stored(None, harden))).is_complete
    soft = {**SPRING, "carbon": 0.2}
    assert codes(replay(read(stored(soft, harden)))) == ["harden.too_little_carbon"]


def test_what_does_not_weld_in_the_fire_is_not_welded():
    fold = step("fold_back", on="bar", flap=60)
    weld = step("weld_fold", on="bar", dressed=square(12), heats=0, welding_heats=1)
    frames = replay(read(stored(None, fold, weld))).parts[0].frames
    assert frames[1].status == "stopped"
    assert [one.code for one in frames[1].of_level("stop")] == ["weld.not_in_the_fire"]


def test_changing_one_figure_reckons_the_part_anew():
    first = replay(read(stored()))
    second = replay(read(stored({**SPRING, "density": 8000})), earlier=first)
    assert second.parts[0].final.mass > first.parts[0].final.mass
