"""The colour roles keep the contrast of WCAG 2.2 AA by day and by night.

Ratios by the standard's own formula (relative luminance and contrast ratio, W3C Recommendation
WCAG 2.2, success criteria 1.4.3 and 1.4.11): 4.5 for text, 3 for what marks a control or a state.
"""

import re
from pathlib import Path

import pytest

from calculators.glow import glow_hex

CSS = Path(__file__).resolve().parents[2] / "static" / "css" / "tokens.css"
TEXT, MARK = 4.5, 3.0

PAIRS = [
    ("ink", "paper", TEXT),
    ("ink", "sheet", TEXT),
    ("ink", "sunk", TEXT),
    ("ink-quiet", "paper", TEXT),
    ("ink-quiet", "sheet", TEXT),
    ("ink-quiet", "sunk", TEXT),
    ("heat", "paper", TEXT),  # a link or a plain button under the pointer
    ("heat", "sheet", TEXT),
    ("on-heat", "heat", TEXT),
    ("on-stop", "stop", TEXT),
    ("on-caution", "caution", TEXT),
    ("stop", "paper", MARK),
    ("stop", "sheet", MARK),
    ("border", "paper", MARK),
    ("border", "sheet", MARK),
    ("border", "sunk", MARK),
    ("focus", "paper", MARK),
    ("focus", "sheet", MARK),
    ("focus", "sunk", MARK),
]


HIGH = CSS.with_name("contrast.css")
MOST = 7.0  # success criterion 1.4.6


def declarations(block):
    return dict(re.findall(r"--([\w-]+):\s*([^;]+);", block))


def blocks(file=CSS):
    """Return (selector, declarations) for every rule of a file, in order."""
    css = re.sub(r"/\*.*?\*/", "", file.read_text(), flags=re.DOTALL)
    return [
        (selector.strip(), declarations(body)) for selector, body in re.findall(r"([^{}]+)\{([^{}]*)\}", css)
    ]


def properties(mode):
    """Return every custom property as it stands by "day" or by "night"."""
    found = {}
    for selector, declared in blocks():
        if selector == ":root" or (mode == "night" and selector == ':root[data-theme="dark"]'):
            found.update(declared)
    return found


def color(found, name):
    value = found[name]
    while match := re.fullmatch(r"var\(--([\w-]+)\)", value):
        value = found[match[1]]
    assert re.fullmatch(r"#[0-9a-f]{6}", value), f"--{name} is {value}, not a plain colour"
    return value


def luminance(hex_color):
    channels = [int(hex_color[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    linear = [c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one, other):
    dark, light = sorted((luminance(one), luminance(other)))
    return (light + 0.05) / (dark + 0.05)


def test_formula_gives_the_ends_of_the_scale():
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#777777", "#777777") == pytest.approx(1)


@pytest.mark.parametrize("mode", ["day", "night"])
@pytest.mark.parametrize(("front", "ground", "least"), PAIRS)
def test_role_stands_out_from_its_ground(mode, front, ground, least):
    found = properties(mode)
    ratio = contrast(color(found, front), color(found, ground))
    assert ratio >= least, f"--{front} on --{ground} by {mode}: {ratio:.2f}, needs {least}"


@pytest.mark.parametrize("mode", ["black-on-white", "white-on-black"])
@pytest.mark.parametrize(("front", "ground", "least"), PAIRS)
def test_high_contrast_has_no_pale_role(mode, front, ground, least):
    found = properties("day")
    found.update(next(declared for selector, declared in blocks(HIGH) if mode in selector))
    assert contrast(color(found, front), color(found, ground)) >= MOST


def test_high_contrast_sets_every_raw_value_and_nothing_else():
    day = {name for name in properties("day") if name.startswith("raw-")}
    assert len(blocks(HIGH)) == 2
    for _, declared in blocks(HIGH):
        assert set(declared) == day


def test_night_is_the_same_whether_the_system_or_the_reader_asks_for_it():
    nights = {selector: declared for selector, declared in blocks() if "data-theme" in selector}
    assert nights[':root:not([data-theme="light"])'] == nights[':root[data-theme="dark"]']


def test_night_changes_raw_values_only():
    nights = [declared for selector, declared in blocks() if "data-theme" in selector]
    assert nights
    for declared in nights:
        assert all(name.startswith("raw-") for name in declared)


def test_day_and_night_set_the_same_raw_values():
    day = {name for name in properties("day") if name.startswith("raw-")}
    night = {name for selector, declared in blocks() if "data-theme" in selector for name in declared}
    assert day == night


def test_strong_colours_are_shades_of_hot_metal():
    for mode in ("day", "night"):
        found = properties(mode)
        computed = {value for name, value in found.items() if re.fullmatch(r"heat-\d+", name)}
        assert {color(found, role) for role in ("heat", "stop", "caution", "focus")} <= computed


def test_heat_shades_are_the_computed_colours_of_their_temperatures():
    heats = {name: value for name, value in properties("day").items() if re.fullmatch(r"heat-\d+", name)}
    assert len(heats) == 5
    assert heats == {name: glow_hex(int(name.removeprefix("heat-"))) for name in heats}
