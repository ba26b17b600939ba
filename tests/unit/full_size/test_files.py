"""SVG and DXF: read back by other means, and measured."""

import io
import math
import re
from xml.etree import ElementTree as ET

import ezdxf
import pytest

from procedures.full_size import dxf_of, pattern_svg, preview_svg
from procedures.full_size.pattern import LAYERS
from tests.unit.engine.documents import a_step

from .laying import bent, demo, laid_out, marked

SVG = "{http://www.w3.org/2000/svg}"


def read(svg: str) -> ET.Element:
    return ET.fromstring(svg)  # noqa: S314 - our own drawing


def written(pattern):
    return ezdxf.read(io.StringIO(dxf_of(pattern)))


def test_dxf_is_r2010_in_millimetres_with_a_layer_a_kind():
    made = written(laid_out(marked(40)).pattern("strip"))
    assert made.dxfversion == "AC1024"
    assert made.units == ezdxf.units.MM
    assert set(LAYERS) <= {one.dxf.name for one in made.layers}
    assert not made.audit().errors


def test_dxf_has_the_bar_its_marks_and_their_names_in_place():
    made = written(laid_out(marked(40, 90), side=18, length=170).pattern("strip")).modelspace()
    outline = made.query('LWPOLYLINE[layer=="outline"]')[0]
    assert outline.closed
    assert {(x, y) for x, y, *_ in outline.get_points()} == {(0, -9), (0, 9), (170, -9), (170, 9)}
    circles = made.query('CIRCLE[layer=="marks"]')
    assert {40, 90} <= {round(one.dxf.center.x, 6) for one in circles}
    assert {"A", "B"} <= {one.dxf.text for one in made.query('TEXT[layer=="text"]')}


def test_dxf_has_a_bend_as_an_arc():
    made = written(laid_out(bent(radius=30), side=12).pattern("bend-1")).modelspace()
    arc = made.query('ARC[layer=="centre"]')[0]
    assert arc.dxf.radius == pytest.approx(36)
    assert (arc.dxf.end_angle - arc.dxf.start_angle) % 360 == pytest.approx(90)
    assert arc.dxf.center.x == pytest.approx(0)
    assert arc.dxf.center.y == pytest.approx(36)


def test_svg_is_at_full_size_with_a_group_a_layer():
    """Its width in mm is the width of its viewBox, and the bar in it is 170 long and 18 wide."""
    root = read(pattern_svg(laid_out(marked(40), side=18, length=170).pattern("strip")))
    box = [float(one) for one in root.get("viewBox").split()]
    assert (root.get("width"), root.get("height")) == (f"{box[2]:g}mm", f"{box[3]:g}mm")
    assert [one.get("id") for one in root.iter(f"{SVG}g")] == list(LAYERS)
    path = root.find(f"{SVG}g[@id='outline']/{SVG}path").get("d")
    spots = [tuple(map(float, one)) for one in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)]
    xs, ys = zip(*spots, strict=True)
    assert max(xs) - min(xs) == pytest.approx(170, abs=0.002)
    assert max(ys) - min(ys) == pytest.approx(18, abs=0.002)


def test_svg_arc_has_its_radius_and_its_ends():
    root = read(pattern_svg(laid_out(bent(radius=30), side=12).pattern("bend-1")))
    curves = [one.get("d") for one in root.iter(f"{SVG}path") if "A" in one.get("d")]
    x1, y1, rx, ry, large, sweep, x2, y2 = map(
        float, re.match(r"M(\S+) (\S+)A(\S+) (\S+) 0 (\d) (\d) (\S+) (\S+)$", curves[0]).groups()
    )
    assert (rx, ry, large, sweep) == (36, 36, 0, 0)
    assert math.dist((x1, y1), (x2, y2)) == pytest.approx(36 * math.sqrt(2), abs=0.002)
    assert y2 < y1, "up the sheet"


@pytest.mark.parametrize(
    ("name", "part"),
    [("coat_hook", "hook"), ("door_hinge", "strap"), ("pot_stand", "hoop"), ("hat_bracket", "bracket")],
)
def test_every_pattern_of_the_demo_is_written_and_read(name, part):
    for pattern in demo(name, part, nominal=False).patterns:
        assert not written(pattern).audit().errors
        read(pattern_svg(pattern))
        small = preview_svg(pattern, pattern.title)
        read(small)
        assert len(small) < 30_000


def test_markup_in_names_stays_words():
    marks = [{"name": "<b>&", "on": "bar", "datum": "start", "offset": 40}]
    pattern = laid_out(a_step("mark_out", marks=marks)).pattern("strip")
    root = read(pattern_svg(pattern))
    assert "<b>&" in {one.text for one in root.iter(f"{SVG}text")}
    assert "<b>&" in {one.dxf.text for one in written(pattern).modelspace().query("TEXT")}
