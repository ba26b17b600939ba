"""What is read aloud beside the forge: sizes and units in words."""

import json

import pytest

from calculators.number_texts import SPACE
from calculators.wording import INCH, METRIC
from procedures.engine.document import read
from procedures.management.commands.load_demo import DEMO
from procedures.presenting import present
from procedures.presenting.spoken import spoken, spoken_done, spoken_ready, spoken_step

SIGNS = "□øØ×°→≈–/\N{MINUS SIGN}" + SPACE


@pytest.mark.parametrize(
    ("written", "said"),
    [
        ("□12 mm", "12 millimetres square"),
        ("□12 to □4 mm", "12 square to 4 millimetres square"),
        ("ø7/16 in", "7 sixteenths inches round"),
        ("□25/64 in", "25 sixty-fourths inches square"),
        ("1 1/8 in", "1 and an eighth inches"),
        ("□1/2 in", "a half inch square"),
        ("ø1/2 in", "a half inch round"),
        ("1 1/2 in", "1 and a half inches"),
        ("3 ft 6 9/16 in", "3 feet 6 and 9 sixteenths inches"),
        ("30 × 8 mm", "30 by 8 millimetres"),
        ("40 × 8 r2 mm", "40 by 8, corners of 2 millimetres"),
        ("1 mm", "1 millimetre"),
        ("11 mm", "11 millimetres"),
        ("1000–1200 °C", "1000 to 1200 degrees Celsius"),
        ("bend it 45°", "bend it 45 degrees"),
        ("2 lb 3 oz", "2 pounds 3 ounces"),
        ("take it in hand", "take it in hand"),
    ],
)
def test_sizes_are_said_as_a_person_says_them(written, said):
    assert spoken(written) == said


def test_narrow_spaces_before_units_are_spaces():
    assert spoken(f"□12{SPACE}mm") == "12 millimetres square"


@pytest.mark.parametrize("units", [METRIC, INCH])
@pytest.mark.parametrize("name", sorted(one.stem for one in DEMO.glob("*.json")))
def test_no_sign_is_left_in_what_the_demo_says(name, units):
    document = read(json.loads((DEMO / f"{name}.json").read_bytes()))
    for part in present(document, units).parts:
        for text in (spoken_ready(part), spoken_done(part), *map(spoken_step, part.steps)):
            assert not set(text) & set(SIGNS), text
            assert text.endswith(".")
            assert ".." not in text


def test_a_step_says_place_sizes_heat_and_check():
    document = read(json.loads((DEMO / "coat_hook.json").read_bytes()))
    taper = present(document, METRIC).parts[0].steps[1]
    said = spoken_step(taper)
    assert said.startswith("Step 2 of 9. ")
    for words in (
        "Section: 10 millimetres square becomes",
        "millimetres",
        "Heat:",
        "degrees Celsius",
        "heats planned",
        "Check:",
    ):
        assert words in said
