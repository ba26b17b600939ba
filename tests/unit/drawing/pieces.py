"""Pieces made by hand, and the replay of one step that made them, for drawing without any operation."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calculators.sections import Section
from procedures.engine.document import Part, Step
from procedures.engine.pieces.branch import Attachment, Branch, Mark
from procedures.engine.pieces.path import Arc, Spiral
from procedures.engine.pieces.piece import Piece, bar
from procedures.engine.pieces.place import Point, Span
from procedures.engine.pieces.segment import Segment, uniform
from procedures.engine.replay import Frame, PartReplay
from procedures.engine.sketch import Sketch

SQUARE = Section.square(12)
FLAT = Section.flat(30, 8)


def arc(section: Section, radius: float, angle: float, plane: str = "easy", turn: int = 1) -> Segment:
    path = Arc(radius, angle, plane, turn)  # type: ignore[arg-type]
    return Segment(section, section, path.length, path)


def spiral(section: Section, first: float, last: float, turns: float, plane: str = "easy") -> Segment:
    path = Spiral(first, last, turns, plane=plane)  # type: ignore[arg-type]
    return Segment(section, section, path.length, path)


def of(*segments: Segment, marks: Sequence[Mark] = ()) -> Piece:
    """Return a piece of one branch made of these segments."""
    length = sum(one.length for one in segments)
    piece = bar(segments[0].start, length)
    return piece.with_branch(replace(piece.root, segments=segments, marks=tuple(marks)))


def with_arms(piece: Piece, *arms: tuple[Attachment, Segment]) -> Piece:
    """Return the piece with an arm of one segment for each attachment."""
    for number, (attached, segment) in enumerate(arms):
        piece = piece.hung(Branch(f"arm {number}", (segment,)), attached)
    return piece


def made(
    piece: Piece,
    *worked: Span,
    before: Piece | None = None,
    points: Sequence[tuple[Point, str]] = (),
    angles: Sequence[tuple[str, float]] = (),
) -> tuple[PartReplay, Frame]:
    """Return the replay of a part whose only step made this piece, and that step."""
    before = before or piece
    sketch = Sketch(points=list(points), angles=list(angles))
    for one in worked:
        sketch.highlight(one)
        sketch.length(one)
    part = Part(piece.root.name, "Part", piece.stock.section, piece.stock.length)
    found = tuple(one for one in worked if before.has_branch(one.branch))
    step = Step("s1", "draw_out", {})
    frame = Frame(1, part, step, "done", before, piece, worked=found, sketch=sketch)
    return PartReplay(part, before, (frame,)), frame


def drawn_down() -> tuple[PartReplay, Frame]:
    """Return □20 × 300 with its last 60 drawn to □12."""
    thick, thin = Section.square(20), Section.square(12)
    after = of(uniform(thick, 240), uniform(thin, 500 / 3))
    return made(after, Span("bar", 240, 240 + 500 / 3), before=bar(thick, 300))


def forty_arms() -> tuple[PartReplay, Frame]:
    arms = []
    for number in range(40):
        angle, offset = -80 + 160 * number / 39, (number - 19.5) * 5
        arm = Segment(Section.flat(5, 10), Section.flat(2, 4), 120)
        arms.append((Attachment("bar", "end", angle=angle, offset=offset), arm))
    piece = with_arms(bar(Section.flat(200, 10), 200), *arms)
    names = [one.name for one in piece.branches[1:]]
    spans = [Span(name, 0, 120) for name in names]
    angles = [(name, 5.0 + number) for number, name in enumerate(names)]
    return made(piece, *spans, before=bar(Section.flat(200, 10), 320), angles=angles)


def scrolled_at_both_ends() -> tuple[PartReplay, Frame]:
    arms = []
    for end in ("start", "end"):
        for side in (1, -1):
            path = Spiral(30, 7, 1.5, plane="hard", turn=side)
            section = Section.flat(15, 8)
            attached = Attachment("bar", end, angle=side * 35, offset=side * 7.5)  # type: ignore[arg-type]
            arms.append((attached, Segment(section, Section.flat(6, 4), path.length, path)))
    piece = with_arms(bar(FLAT, 200), *arms)
    names = [one.name for one in piece.branches[1:]]
    spans = [Span(name, 0, piece.branch(name).length) for name in names]
    angles = [(name, piece.branch(name).attached.angle) for name in names]
    return made(piece, *spans, before=bar(FLAT, 300), angles=angles)


def marked(*names: str, new: bool = False) -> tuple[PartReplay, Frame]:
    """Return □12 × 600 with these marks spread along it, put on by the step or from before."""
    marks = [Mark(name, 600 * (at + 0.5) / len(names)) for at, name in enumerate(names)]
    points = [(Point("bar", one.at), one.name) for one in marks] if new else []
    return made(of(uniform(SQUARE, 600), marks=marks), points=points, before=bar(SQUARE, 600))


def hard_cases() -> dict[str, tuple[PartReplay, Frame]]:
    """Return pieces that are hard to draw, by name."""
    long = bar(SQUARE, 6000)
    sharp = Section.point()
    bent = of(
        uniform(FLAT, 80), arc(FLAT, 20, 90), uniform(FLAT, 50), arc(FLAT, 30, 90, "hard"), uniform(FLAT, 60)
    )
    curled = of(uniform(Section.flat(16, 5), 150), spiral(Section.flat(16, 5), 60, 8, 5))
    twisted = of(uniform(FLAT, 80), Segment(FLAT, FLAT, 40, twist=0.25), uniform(FLAT, 80))
    return {
        "a 6 m bar with a feature of 3 mm": made(
            of(uniform(SQUARE, 5000), uniform(Section.square(8), 3), uniform(SQUARE, 997)),
            Span("bar", 5000, 5003),
            before=long,
        ),
        "a 6 m bar with a bend": made(
            of(uniform(SQUARE, 3000), arc(SQUARE, 20, 90), uniform(SQUARE, 2900)), before=long
        ),
        "40 arms": forty_arms(),
        "a scroll of 5 turns": made(curled, Span("bar", 150, curled.root.length)),
        "no marks": marked(),
        "40 marks": marked(*(f"M{number}" for number in range(40))),
        "20 new marks": marked(*(f"M{number}" for number in range(20)), new=True),
        "names": marked('<b>&"x"', "🔥 fire 🔥", "علامة الوسط", "A" * 60, "Å é ü", "混合", "ends\u202eevil"),
        "points at both ends": made(
            of(Segment(sharp, SQUARE, 60), uniform(SQUARE, 100), Segment(SQUARE, sharp, 60)),
            Span("bar", 0, 60),
        ),
        "out of the plane": made(bent, Span("bar", 80, 111.4), before=bar(FLAT, 300)),
        "both ends split and scrolled": scrolled_at_both_ends(),
        "a ring": made(of(arc(Section.square(16), 78, 360)), Span("bar", 0, 490), before=long),
        "a quarter twist": made(twisted, Span("bar", 80, 120)),
        "an arm up": made(
            with_arms(bar(SQUARE, 300), (Attachment("bar", 150.0, elevation=45), uniform(SQUARE, 60)))
        ),
        "nothing left": made(replace(long, branches=(Branch("bar", ()),)), before=long),
        "a bar of 3 mm": made(of(uniform(Section.round(3), 30), Segment(Section.round(3), sharp, 9))),
    }
