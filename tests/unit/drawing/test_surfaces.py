"""What has no outline of its own: patterns, treatments, wraps, rivet heads, bowls, fillets and welds."""

from dataclasses import replace

import pytest

from calculators.formulas.basket_length import rod_length
from calculators.sections import Section
from calculators.wording import INCH
from procedures.drawing import PartDrawing
from procedures.engine.pieces.branch import Attachment, Feature
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.path import Arc
from procedures.engine.pieces.piece import bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.pieces.treatment import Treatment

from .pieces import FLAT, SQUARE, arc, made, of, with_arms
from .svg_reading import Drawing

PATTERNS = ["veins", "lines", "crossed", "hammered", "bark", "stamped", "other"]


def drawn(piece, before=None, size="screen") -> tuple[Drawing, float]:
    replayed, frame = made(piece, before=before or piece)
    pen = PartDrawing(replayed, size=size)
    return Drawing(pen.step(frame)), pen.plot.scale


def said(piece, before=None, units=None) -> str:
    replayed, frame = made(piece, before=before or piece)
    text = (PartDrawing(replayed, units) if units else PartDrawing(replayed)).text(frame)
    return text.replace("\N{NARROW NO-BREAK SPACE}", " ")


def box(lines) -> tuple[float, float, float, float]:
    xs, ys = zip(*(spot for line in lines for spot in line), strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def treated(state: str, at: float = 0.0, low: float = 100) -> object:
    long = replace(uniform(SQUARE, 200 - low), treatment=Treatment(state, at))  # type: ignore[arg-type]
    return of(uniform(SQUARE, low), long)


# -- patterns ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_pattern_lies_on_the_run_it_was_put_in(pattern):
    piece = of(uniform(FLAT, 100), replace(uniform(FLAT, 80), texture=pattern))
    read, _ = drawn(piece, before=of(uniform(FLAT, 100), uniform(FLAT, 80)))
    left, top, right, foot = box(read.lines("pattern"))
    outline = box(line for line in read.lines("outline") if line[0][1] > read.size[1] / 3)
    middle = outline[0] + (outline[2] - outline[0]) * 100 / 180
    assert middle - 0.2 <= left
    assert right <= outline[2] + 0.2
    assert outline[1] < top < foot < outline[3]


def test_a_flat_bar_bears_its_pattern_on_its_face_alone():
    piece = of(replace(uniform(FLAT, 200), texture="hammered"))
    read, _ = drawn(piece)
    plan = next(one.box[3] for one in read.texts if one.words == "Plan")
    assert all(y > plan for line in read.lines("pattern") for _, y in line)


def test_a_pattern_has_few_strokes_however_long_the_bar():
    read, _ = drawn(of(replace(uniform(Section.round(12), 6000), texture="bark")))
    assert 20 < len(read.lines("pattern")) <= 110


def test_a_new_pattern_is_named_and_an_old_one_is_not():
    plain, barked = of(uniform(SQUARE, 200)), of(replace(uniform(SQUARE, 200), texture="bark"))
    assert "bark" in drawn(barked, before=plain)[0].words
    assert "bark" not in drawn(barked)[0].words
    assert "Bark: bar from 0 mm to 200 mm." in said(barked, before=plain)


# -- treatments --------------------------------------------------------------------------------------


def test_a_hardened_run_has_a_heavy_chain_line_outside_it():
    read, scale = drawn(treated("hard"))
    left, top, right, foot = box(read.lines("zone"))
    outline = box(line for line in read.lines("outline") if len(line) == 2 and line[0] != line[1])
    assert right - left == pytest.approx(100 * scale, abs=8)
    assert top == foot < min(y for line in read.lines("outline") for _, y in line)
    assert outline[0] < left
    assert read.element("zone").get("stroke-dasharray")
    assert read.stroke("zone") > read.stroke("outline")
    assert "hard" in read.words


def test_a_temper_is_said_in_the_readers_units():
    read, _ = drawn(treated("tempered", 250))
    assert any("250" in words and "tempered" in words for words in read.words)
    assert "482 °F" in said(treated("tempered", 250), units=INCH)


def test_what_only_the_last_heat_left_is_not_drawn_for_ever():
    """Normalised and waxed is worth showing when it is done, hard as long as it is."""
    plain = of(uniform(SQUARE, 100), uniform(SQUARE, 100))
    assert drawn(treated("normalised"), before=plain)[0].element("zone") is not None
    assert drawn(treated("normalised"))[0].element("zone") is None
    assert drawn(treated("hard"))[0].element("zone") is not None


def test_the_line_of_a_treatment_follows_a_step():
    thick, thin = Section.square(20), Section.square(10)
    hard = Treatment("hard")
    run = [replace(uniform(one, 100), treatment=hard) for one in (thick, thin)]
    read, scale = drawn(of(*run))
    levels = {round(y, 1) for line in read.lines("zone") for _, y in line}
    assert max(levels) - min(levels) == pytest.approx(5 * scale, abs=0.2)


# -- what stands on a bar ----------------------------------------------------------------------------


def wrap(turns: float, wire: float = 4, pitch: float = 4) -> Feature:
    long = turns * pitch
    return Feature("wrap", "wrap", 150, "rectangle", long, 12 + 2 * wire, depth=wire, turns=turns)


@pytest.mark.parametrize(("turns", "pitch"), [(8, 4), (6, 9), (2.5, 4)])
def test_a_wrap_shows_its_turns(turns, pitch):
    core = bar(Section.round(12), 300)
    read, scale = drawn(core.featured("bar", wrap(turns, pitch=pitch)), before=core)
    strands = read.lines("over-outline")
    assert len(strands) == -(-turns // 1)
    low, top, high, foot = box(strands)
    assert foot - top == pytest.approx((12 + 8) * scale, abs=0.5)
    assert high - low == pytest.approx(turns * pitch * scale, abs=5 * scale)
    assert any(f"{turns:g} turns of ø4" in words for words in read.words)


def test_a_wrap_of_many_turns_is_drawn_as_springs_are():
    core = bar(Section.round(12), 300)
    read, _ = drawn(core.featured("bar", wrap(60, wire=3, pitch=3)), before=core)
    assert len(read.lines("over-outline")) == 4
    assert "60 turns of 3 mm wire" in said(core.featured("bar", wrap(60, wire=3, pitch=3)), before=core)


def test_a_loose_rivet_has_a_head_on_each_side():
    rivet = Feature("rivet", "rivet", 100, "round", 13, 13, depth=5)
    read, scale = drawn(bar(FLAT, 200).featured("bar", rivet), before=bar(FLAT, 200))
    domes = [line for line in read.lines("worked") if len(line) > 5]
    assert len(domes) == 2
    left, top, right, foot = box(domes)
    assert foot - top == pytest.approx((8 + 2 * 5) * scale, abs=0.5)
    assert right - left == pytest.approx(13 * scale, abs=0.5)


def test_a_rivet_head_lies_on_the_outermost_bar():
    attached = Attachment("bar", 100.0, angle=90, up=9, by=30)
    rivet = Feature("rivet", "rivet", 100, "round", 13, 13, depth=5)
    piece = with_arms(bar(FLAT, 200).featured("bar", rivet), (attached, uniform(Section.flat(30, 10), 60)))
    joint = Joint("rivet", (Point("bar", 100), Point("arm 0", 30)))
    read, scale = drawn(replace(piece, joints=(joint,)), before=bar(FLAT, 200))
    _, top, _, foot = box(line for line in read.lines("worked") if len(line) > 5)
    assert foot - top == pytest.approx((8 + 10 + 2 * 5) * scale, abs=0.5)


def test_a_driven_end_has_its_fillets():
    fillet = Feature("fillet", "fillet", 200, "round", 5, 22)
    read, scale = drawn(bar(SQUARE, 200).featured("bar", fillet), before=bar(SQUARE, 200))
    curves = [line for line in read.lines("worked") if len(line) > 3]
    assert len(curves) == 2
    _, top, _, foot = box(curves)
    assert foot - top == pytest.approx((12 + 10) * scale, abs=0.5)


# -- what is pressed in, and welds -------------------------------------------------------------------


def dish(side: str = "top", rim: float = 40) -> Feature:
    return Feature("dish", "dish", 50, "round", rim, rim, depth=10, side=side)  # type: ignore[arg-type]


@pytest.mark.parametrize("side", ["top", "bottom"])
def test_a_dish_shows_its_bowl_from_the_side(side):
    sheet = bar(Section.flat(60, 2), 100)
    read, scale = drawn(sheet.featured("bar", dish(side)), before=sheet)
    (bowl,) = [line for line in read.lines("worked") if len(line) > 5]
    left, top, right, foot = box([bowl])
    assert foot - top == pytest.approx(10 * scale, abs=0.5)
    assert right - left == pytest.approx(40 * scale, abs=0.5)
    lowest = max(bowl, key=lambda spot: spot[1])
    assert (lowest not in (bowl[0], bowl[-1])) is (side == "top")
    assert read.element("hidden") is not None


def test_the_rim_of_a_dish_stays_round_and_on_the_metal():
    """A bar of 50 stands in for a disc of 58: what of the rim lies beyond its edges is left out."""
    sheet = bar(Section.flat(50, 2), 100)
    read, scale = drawn(sheet.featured("bar", dish(rim=58)), before=sheet)
    left, top, right, foot = box(read.lines("worked-edge"))
    assert right - left == pytest.approx(58 * scale, abs=0.5)
    assert foot - top <= 50 * scale + 0.1


def test_a_lap_weld_shows_the_slope_of_its_scarfs():
    joint = Joint("lap_weld", (Point("bar", 100),))
    read, scale = drawn(replace(bar(SQUARE, 200), joints=(joint,)))
    (slope,) = [line for line in read.lines("edge") if len(line) == 2]
    (x, y), (x_2, y_2) = slope
    assert abs(y_2 - y) == pytest.approx(12 * scale, abs=0.2)
    assert abs(x_2 - x) == pytest.approx(18 * scale, abs=0.2)


def test_the_weld_of_a_ring_goes_over_its_seam():
    ring = of(Segment(SQUARE, SQUARE, Arc(80, 360).length, Arc(80, 360)))
    joint = Joint("ring_weld", (Point("bar", 0.0), Point("bar", ring.root.length)))
    read, _ = drawn(replace(ring, joints=(joint,)))
    assert len(read.lines("edge")) == 2
    assert any(words.endswith("inside") for words in drawn_ring_words())


def drawn_ring_words() -> list[str]:
    ring = of(Segment(SQUARE, SQUARE, Arc(80, 360).length, Arc(80, 360)))
    replayed, frame = made(ring, Span("bar", 0, ring.root.length), before=bar(SQUARE, ring.root.length))
    return Drawing(PartDrawing(replayed).step(frame)).words


def test_a_fold_of_no_radius_is_folded_close():
    piece = of(uniform(FLAT, 100), arc(FLAT, 4.0000001, 180), uniform(FLAT, 60))
    worked = Span("bar", 100, 100 + arc(FLAT, 4, 180).length)
    replayed, frame = made(piece, worked, before=bar(FLAT, 172))
    assert "folded close" in Drawing(PartDrawing(replayed).step(frame)).words


@pytest.mark.parametrize("turns", [0.0, 1.0])
def test_a_basket_shows_its_rods_and_not_the_spindle_they_lie_in(turns):
    """Four rods of 6 reach 23 from the axis: 1 turn lays each of them on both sides of it."""
    thick, swell = Section.round(14.485), Section.round(46)
    rods = 4 * 9 * 3.14159 * rod_length(67.0, turns, 20.0, 4.2426)
    run = [
        uniform(Section.square(10), 20),
        Segment(thick, swell, 33.5, twist=turns / 2),
        Segment(swell, thick, 33.5, twist=turns / 2),
        uniform(Section.square(10), 20),
    ]
    hollow = rods - sum(one.volume for one in run[1:3])
    basket = Feature("basket", "basket", 53.5, "round", 67, 46, hollow, turns=turns)
    piece = of(*run).featured("bar", basket)
    read, scale = drawn(piece, before=bar(SQUARE, 107))
    rods_seen = [line for line in read.lines("worked") if len(line) > 4]
    _, top, _, foot = box(rods_seen)
    assert foot - top == pytest.approx(46 * scale, abs=0.7)
    axis = (top + foot) / 2
    wound = [
        any(y < axis - 5 * scale for _, y in line) and any(y > axis + 5 * scale for _, y in line)
        for line in rods_seen
    ]
    assert any(wound) is bool(turns)
    straight = [line for line in read.lines("outline") if len(line) == 2]
    assert not any(abs(a[0] - b[0]) > 30 * scale and abs(a[1] - b[1]) > 10 * scale for a, b in straight)


def twisted(turns: float, long: float = 600) -> tuple[Drawing, float]:
    run = Segment(SQUARE, SQUARE, long, twist=turns)
    piece = of(uniform(SQUARE, 60), run, uniform(SQUARE, 60))
    replayed, frame = made(piece, Span("bar", 60, 60 + long), before=bar(SQUARE, long + 120))
    pen = PartDrawing(replayed)
    return Drawing(pen.step(frame)), pen.plot.scale


@pytest.mark.parametrize(("turns", "leans"), [(40.0, 1), (-40.0, -1), (3.0, 1), (-3.0, -1)])
def test_a_twist_leans_to_its_hand_however_it_is_drawn(turns, leans):
    """Right-handed corners on the near side run down to the right."""
    read, _ = twisted(turns)
    slopes = [
        (b[0] - a[0]) * (b[1] - a[1])
        for a, *_, b in read.lines("worked-edge")
        if abs(b[0] - a[0]) > 1 and abs(b[1] - a[1]) > 1
    ]
    assert len(slopes) > 8
    assert all(one * leans > 0 for one in slopes)


def test_a_twist_of_many_turns_stays_small():
    few, many = twisted(3)[0], twisted(300)[0]
    assert len(many.svg.encode()) < 6000
    assert any("300 turns" in words for words in many.words)
    (top, foot), (top_few, foot_few) = ((box(one.lines("worked"))[1::2]) for one in (many, few))
    assert foot - top == pytest.approx(foot_few - top_few, abs=1)
