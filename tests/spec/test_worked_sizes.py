"""The worked size of every operation is an example of it: so it is tested, and on the page of its guide.

The sums were made apart from this code, in millimetres and grams; the volume or the drawing gives each.
"""

import re

import pytest

from procedures.engine.catalogue import catalogue

WORKED = {
    "heat": (1.88,),  # grams lost by 100 of square 12 in one heat at 0.05
    "cut_off": (634.0, 640.0),
    "draw_out": (166.7, 15.49, 80.0, 286.0, 322.0),
    "taper": (100.5, 50.0, 83.1, 47.8, 284.5),
    "point": (54.0, 43.5),
    "fuller": (22.11, 3.7, 4.1),
    "shoulder": (92.4, 2.5),
    "set_down": (68.6, 2.5),
    "swage": (127.3, 1.01),
    "change_section": (96.6, 101.9, 15.8, 12.4),
    "flatten": (0.506, 26.3, 81.2),
    "spread": (25.4, 60.0),
    "dish": (86.7, 84.4),
    "upset": (25.6, 19.2, 14.01),
    "corner": (168.0, 168.2),
    "head": (35.4, 2.21),
    "bend": (29.8, 143.8),
    "offset": (20.0, 35.7, 28.3, 7.4),
    "scroll": (216.1, 182.6),
    "loop": (88.0, 80.6, 62.8),
    "weld_ring": (81.2, 79.9),
    "twist": (41.6, 33.8),
    "basket": (80.6,),
    "fold_back": (7.9, 132.1),
    "straighten": (97.1,),
    "split": (14.25, 9.4),
    "open_split": (100.0,),
    "punch": (1.48, 28.1),
    "slit_drift": (28.6, 4.3, 42.7),
    "drift": (10.98, 46.0),
    "drill": (4.9, 7.5),
    "scarf": (12.1, 7.9, 28.8),
    "weld_lap": (394.8, 400.0),
    "weld_fagot": (107.1, 101.8),
    "weld_jump": (295.0, 565.0),
    "weld_cleft": (43.1, 13.1),
    "weld_side": (29.9, 305.9, 54.0),
    "weld_cross": (6400.0, 15.0),
    "collar": (84.6, 90.6),
    "wrap": (50.42, 403.4),
    "rivet": (11.6,),
    "tenon": (7.7, 3.0),
    "chamfer": (107.6, 14.1),
    "planish": (105.3,),
    "inspect": (100.5, 99.0, 1.5),
    "case_harden": (1.26, 0.63),
}
_NUMBER = re.compile(r"\d+(?:[ \u202f]\d{3})*(?:\.\d+)?")


def numbers(example):
    """Return all figures that a working example states."""
    texts = (example.title, example.source, *example.says)
    stated = [float(re.sub(r"[ \u202f]", "", one)) for text in texts for one in _NUMBER.findall(text)]
    stated += [float(one) for text in texts for one in re.findall(r"\d+\.?\d*", text)]
    for result in example.after:
        lengths = (result.length, result.worked, *result.marks.values(), *result.at)
        sections = (result.section, result.start, result.end, *result.at.values())
        stated += [one for one in lengths if one is not None]
        stated += [size for one in sections if one for size in (one.width, one.thickness)]
    return [*stated, example.lost] if example.lost is not None else stated


def test_every_operation_named_is_in_the_catalogue():
    assert set(WORKED) <= set(catalogue())


@pytest.mark.parametrize("operation", WORKED)
def test_the_worked_size_is_an_example(operation):
    stated = [one for example in catalogue()[operation].examples if example.after for one in numbers(example)]
    for wanted in WORKED[operation]:
        close = 0.051 if wanted >= 10 else 0.0051 if round(wanted, 1) != wanted else 0.051
        assert any(abs(one - wanted) <= close for one in stated), wanted
