"""The report of a replay: everything reckoned for every step, as plain values that JSON can hold.

    {"format": "forgesite.replay", "version": 1,
     "title", "view": "expected" (scale reckoned in) | "nominal", "estimate": "low" | "typical" | "high",
     "complete": whether every step came about,
     "parts": [{"key", "name", "quantity", "material" (its id, or "own"), "material_title", "complete",
                "stock": {"section", "length", "volume", "mass"},
                "steps": [STEP, ...]}]}

    STEP     {"number", "key", "operation", "version", "title",
              "status": "done" | "stopped" | "not_reached",
              "heats", "welding_heats" (all members counted), "instruction", "check" (texts or null),
              "findings": [{"level", "code", "message", "hint", "field", "source",
                            "silenced" (why the author lets it stand, or null)}],
              "branches": [BRANCH, ...], "groups": {name: [branch, ...]},
              "joints": [{"kind", "branch", "at" (of its first place), "name", "places": [{"branch", "at"}],
                          "moves", "clearance" (null where no hole)}],
              "volume", "mass", "ledger"}
    BRANCH   {"name", "attached": null | {"parent", "at", "angle", "elevation", "offset", "ahead", "up",
                                          "roll", "by"},
              "length", "volume",
              "segments": [{"start": SECTION, "end": SECTION, "length", "volume", "path", "twist", "layers",
                            "bulge", "circle": null | [from, to], "shift": [left, up],
                            "lean": [left, up], "texture", "treatment": null | TREATMENT}],
              "marks": [{"name", "at"}],
              "features": [{"kind", "name", "at", "shape", "length", "width", "volume",
                            "depth", "side"}]}
    PATH     {"kind": "straight"} | {"kind": "arc", "radius", "angle", "plane", "turn"}
             | {"kind": "corner", "before", "after", "angle", "plane", "turn"}
             | {"kind": "spiral", "first", "last", "turns", "law", "plane", "turn"}
    TREATMENT {"state": "" | "normalised" | "soft" | "hard" | "tempered", "tempered_at": °C or null,
              "case": depth of a case, "coat"}
    SECTION  as in the document: {"shape": "square", "side"} and the like
    LEDGER   {"start", "received", "piece", "scale", "kerf", "slug", "drill", "file", "weld", "measured",
              "offcuts", "balance"}: start + received is the sum of all that follow, and balance what is
              missing from it

A step's piece is the one it leaves; a step that did not come about leaves what it found. Lengths in mm,
volumes in mm³, masses in kg, angles in degrees, twist in turns; rounded to a millionth, masses to a
billionth, so that two machines write the same. Names are only ever added; what is here keeps its meaning
while "version" is 1.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields
from typing import Any

from calculators.sections import Section
from calculators.wording import METRIC, Sentence, UnitSystem

from .engine.finding import Finding
from .engine.pieces.branch import Branch
from .engine.pieces.path import Path
from .engine.pieces.piece import LossKind, Piece
from .engine.pieces.segment import Segment
from .engine.pieces.treatment import Treatment
from .engine.replay import Frame, PartReplay, Replay

FORMAT = "forgesite.replay"
VERSION = 1
LOSSES: tuple[LossKind, ...] = ("scale", "kerf", "slug", "drill", "file", "weld", "measured")

Fields = dict[str, Any]


def report(replayed: Replay, units: UnitSystem = METRIC) -> Fields:
    """Return the report of a replay; `units` are those of its sentences, its numbers are in house units."""
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": replayed.document.title,
        "view": "nominal" if replayed.nominal else "expected",
        "estimate": replayed.estimate,
        "complete": replayed.is_complete,
        "parts": [_part(one, units) for one in replayed.parts],
    }


def _part(replayed: PartReplay, units: UnitSystem) -> Fields:
    part, start = replayed.part, replayed.start
    return {
        "key": part.key,
        "name": part.name,
        "quantity": part.quantity,
        "material": part.material.id,
        "material_title": part.material.title,
        "complete": replayed.is_complete,
        "stock": {
            "section": _section(part.section),
            "length": _number(part.length),
            "volume": _number(start.volume),
            "mass": _mass(start.mass),
        },
        "steps": [_step(one, units) for one in replayed.frames],
    }


def _step(frame: Frame, units: UnitSystem) -> Fields:
    piece = frame.after
    return {
        "number": frame.number,
        "key": frame.key,
        "operation": frame.step.operation,
        "version": frame.step.version,
        "title": frame.title,
        "status": frame.status,
        "heats": frame.heats,
        "welding_heats": frame.welding_heats,
        "instruction": _text(frame.instruction, units),
        "check": _text(frame.check, units),
        "findings": [_finding(one, units) for one in frame.findings],
        "branches": [_branch(one) for one in piece.branches],
        "groups": {name: list(members) for name, members in sorted(piece.groups.items())},
        "joints": [
            {
                "kind": one.kind,
                "branch": one.places[0].branch,
                "at": _number(one.places[0].at),
                "name": one.name,
                "places": [{"branch": held.branch, "at": _number(held.at)} for held in one.places],
                "moves": one.moves,
                "clearance": None if one.clearance is None else _number(one.clearance),
            }
            for one in piece.joints
        ],
        "volume": _number(piece.volume),
        "mass": _mass(piece.mass),
        "ledger": _ledger(piece),
    }


def _finding(finding: Finding, units: UnitSystem) -> Fields:
    return {
        "level": str(finding.level),
        "code": finding.code,
        "message": finding.message.text(units),
        "hint": _text(finding.hint, units),
        "field": finding.field,
        "source": finding.source,
        "silenced": finding.silenced or None,
    }


def _branch(branch: Branch) -> Fields:
    attached = branch.attached
    return {
        "name": branch.name,
        "attached": attached
        and {
            "parent": attached.parent,
            "at": attached.at if isinstance(attached.at, str) else _number(attached.at),
            "angle": _number(attached.angle),
            "elevation": _number(attached.elevation),
            "offset": _number(attached.offset),
            "ahead": _number(attached.ahead),
            "up": _number(attached.up),
            "roll": _number(attached.roll),
            "by": _number(attached.by),
        },
        "length": _number(branch.length),
        "volume": _number(branch.volume),
        "segments": [_segment(one) for one in branch.segments],
        "marks": [{"name": one.name, "at": _number(one.at)} for one in branch.marks],
        "features": [
            {
                "kind": one.kind,
                "name": one.name,
                "at": _number(one.at),
                "shape": one.shape,
                "length": _number(one.length),
                "width": _number(one.width),
                "volume": _number(one.volume),
                "depth": _number(one.depth),
                "side": one.side,
            }
            for one in sorted(branch.features, key=lambda one: (one.at, one.name))
        ],
    }


def _segment(segment: Segment) -> Fields:
    return {
        "start": _section(segment.start),
        "end": _section(segment.end),
        "length": _number(segment.length),
        "volume": _number(segment.volume),
        "path": _path(segment.path),
        "twist": _number(segment.twist),
        "layers": segment.layers,
        "bulge": _number(segment.bulge),
        "circle": segment.circle and [_number(one) for one in segment.circle],
        "shift": [_number(one) for one in segment.aside],
        "lean": [_number(one) for one in segment.lean],
        "texture": segment.texture,
        "treatment": _treatment(segment.treatment) if segment.treatment else None,
    }


def _treatment(treatment: Treatment) -> Fields:
    return {
        "state": treatment.state,
        "tempered_at": _number(treatment.tempered_at) if treatment.state == "tempered" else None,
        "case": _number(treatment.case),
        "coat": treatment.coat,
    }


def _path(path: Path) -> Fields:
    own = {one.name: getattr(path, one.name) for one in fields(path) if one.name != "kind"}
    return {"kind": path.kind} | {
        name: _number(value) if isinstance(value, float) else value for name, value in own.items()
    }


def _section(section: Section) -> Fields:
    return {
        name: _number(value) if isinstance(value, int | float) else value
        for name, value in section.to_json().items()
    }


def _ledger(piece: Piece) -> Fields:
    return {
        "start": _number(piece.start_volume),
        "received": _number(piece.received),
        "piece": _number(piece.volume),
        **{kind: _number(piece.lost(kind)) for kind in LOSSES},
        "offcuts": _number(sum(one.volume for one in piece.offcuts)),
        "balance": _number(piece.imbalance),
    }


def _text(sentence: Sentence | None, units: UnitSystem) -> str | None:
    return sentence.text(units) if sentence else None


def _number(value: float) -> float:
    return round(float(value), 6) + 0.0  # never -0.0


def _mass(kg: float) -> float:
    return round(float(kg), 9) + 0.0


# -- the same for reading ----------------------------------------------------------------------------


def lines(replayed: Replay, units: UnitSystem = METRIC) -> Iterator[str]:
    """Yield the report as lines of text, the sizes in the reader's units."""
    view = "nominal" if replayed.nominal else f"with scale ({replayed.estimate} estimate)"
    stopped = "" if replayed.is_complete else "; NOT COMPLETE"
    yield f"{replayed.document.title}: {view}{stopped}"
    for part in replayed.parts:
        own = part.part
        stock = f"{units.section(own.section)} × {units.length(own.length)}"
        yield ""
        yield f"{own.name} ({own.key}): {stock}, {own.material.title.lower()}, {units.mass(part.start.mass)}"
        for frame in part.frames:
            yield from _frame_lines(frame, units)


def _frame_lines(frame: Frame, units: UnitSystem) -> Iterator[str]:
    yield f"  {frame.number}. {frame.key}: {frame.step.operation} [{frame.status.replace('_', ' ')}]"
    if frame.instruction:
        yield f"     {frame.instruction.text(units)}"
    for finding in frame.findings:
        silenced = f" (silenced: {finding.silenced})" if finding.silenced else ""
        yield f"     {finding.level} {finding.code}: {finding.text(units)}{silenced}"
    if frame.status != "done":
        return
    for branch in frame.after.branches:
        hangs = f" on {branch.attached.parent}" if branch.attached else ""
        yield f"     {branch.name}{hangs}: {units.length(branch.length)}, {units.volume(branch.volume)}"
        yield from (f"       {_segment_line(one, units)}" for one in branch.segments)
        marks = ", ".join(f"{one.name} {units.length(one.at)}" for one in branch.marks)
        if marks:
            yield f"       marks: {marks}"
        holes = ", ".join(f"{one.name or one.kind} {units.length(one.at)}" for one in branch.features)
        if holes:
            yield f"       features: {holes}"
    yield f"     mass {units.mass(frame.after.mass)}; {_ledger_line(frame.after, units)}"


def _segment_line(segment: Segment, units: UnitSystem) -> str:
    start, end = units.section(segment.start), units.section(segment.end)
    size = start if start == end else f"{start} to {end}"
    if segment.bulge:
        size = f"{'disc' if segment.circle else 'leaf'} {units.section(segment.widest)}"
    more = "" if segment.path.kind == "straight" else f", {segment.path.kind}"
    more += f", {units.number(segment.twist)} turns" if segment.twist else ""
    more += f", {segment.layers} layers" if segment.layers > 1 else ""
    more += f", textured: {segment.texture}" if segment.texture else ""
    more += f", {segment.treatment.said.text(units)}" if segment.treatment else ""
    return f"{size}, {units.length(segment.length)} long, {units.volume(segment.volume)}{more}"


def _ledger_line(piece: Piece, units: UnitSystem) -> str:
    offcuts = sum(one.volume for one in piece.offcuts)
    entries: dict[str, float] = {
        "start": piece.start_volume,
        "received": piece.received,
        **{kind: piece.lost(kind) for kind in LOSSES},
        "offcuts": offcuts,
    }
    said = [f"{name} {units.mass(piece.mass_of(volume))}" for name, volume in entries.items() if volume]
    return ", ".join(said)
