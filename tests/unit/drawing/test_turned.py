"""The piece seen from its other side, for a left-handed smith: turned, never mirrored."""

import re

import pytest

from calculators.wording import METRIC
from procedures.drawing import PartDrawing
from procedures.engine.document import read
from procedures.engine.pieces.pose import pose
from procedures.engine.replay import replay
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out


@pytest.fixture
def part():
    marked = a_step("mark_out", marks=[{"name": "A", "on": "bar", "datum": "end", "offset": 60}])
    bent = a_step(
        "bend", at={"on": "bar", "datum": "mark", "mark": "A"}, angle=90, inside_radius=20, toward="up"
    )
    return replay(read(a_document(a_part(marked, bent)), draft=True)).parts[0]


def test_a_turned_piece_is_the_same_after_half_a_turn_about_z(part):
    as_usual, turned = pose(part.final), pose(part.final, turned=True)
    for one, two in zip(as_usual.branches, turned.branches, strict=True):
        for first, second in zip(one.segments, two.segments, strict=True):
            x, y, z = first.end.origin
            assert second.end.origin == pytest.approx((-x, -y, z))


def test_a_turned_piece_is_not_mirrored(part):
    axes = pose(part.final, turned=True).branches[0].end
    (a, b, c), (d, e, f), (u, v, w) = axes.ahead, axes.left, axes.up
    assert u * (b * f - c * e) + v * (c * d - a * f) + w * (a * e - b * d) == pytest.approx(1)


def test_marks_stand_at_the_same_places_seen_from_the_other_end():
    marks = [{"name": "A", "on": "bar", "datum": "start", "offset": 60}]
    replayed = replay(read(a_document(a_part(a_step("mark_out", marks=marks))), draft=True)).parts[0]

    def place_of_60(turned: bool) -> float:
        svg = PartDrawing(replayed, METRIC, "print", turned=turned).mark_out()
        return float(re.search(r'<text x="([\d.]+)"[^>]*>60</text>', svg)[1])

    # 300 mm of bar take 150 mm of the sheet, which is 170 mm wide with a margin of 2 mm
    assert place_of_60(turned=False) == pytest.approx(2 + 30, abs=0.1)
    assert place_of_60(turned=True) == pytest.approx(2 + 150 - 30, abs=0.1)


def test_a_turned_drawing_takes_the_same_room():
    part = replay(read(a_document(a_part(drawn_out(side=12))), draft=True)).parts[0]
    sizes = [
        re.search(r'width="[\d.]+mm" height="[\d.]+mm"', pen.step(part.frames[0]))[0]
        for pen in (PartDrawing(part, METRIC, "print"), PartDrawing(part, METRIC, "print", turned=True))
    ]
    assert sizes[0] == sizes[1]


def test_lettering_of_small_paper_is_two_and_a_half_millimetres_high():
    part = replay(read(a_document(a_part(drawn_out(side=12))), draft=True)).parts[0]
    tall = [
        float(
            re.search(
                r'height="([\d.]+)mm"', PartDrawing(part, METRIC, "print", **more).step(part.frames[0])
            )[1]
        )
        for more in ({}, {"capitals": 2.5})
    ]
    svg = PartDrawing(part, METRIC, "print", capitals=2.5).step(part.frames[0])
    sizes = {float(one) for one in re.findall(r'font-size="([\d.]+)"', svg)}
    assert max(sizes) == pytest.approx(2.5 / 0.7, abs=0.05)  # capitals are 0.7 of the size of the type
    assert tall[1] < tall[0]
