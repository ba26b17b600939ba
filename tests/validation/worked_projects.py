"""Four projects as stored documents: a key hook, a trivet, a candle bracket and a hearth set.

Their steps are those of an independent script of the same rules. Its ranges of scale end with the work:
`heated` says so where ours reach further. It reckons a bite longer than the flattened end of a foot, which we
do not, so that its spread is given here.
"""

from __future__ import annotations

from typing import Any

Stored = dict[str, Any]


def square(side: float) -> Stored:
    return {"shape": "square", "side": side}


def flat(width: float, thickness: float) -> Stored:
    return {"shape": "flat", "width": width, "thickness": thickness}


def disc(diameter: float) -> Stored:
    return {"shape": "round", "diameter": diameter}


def start(on: str, offset: float = 0.0, **more: Any) -> Stored:
    return {"on": on, "datum": "start", "offset": offset, **more}


def end(on: str, offset: float = 0.0, **more: Any) -> Stored:
    return {"on": on, "datum": "end", "offset": offset, **more}


def mark(on: str, name: str, **more: Any) -> Stored:
    return {"on": on, "datum": "mark", "mark": name, **more}


def whole(on: str) -> Stored:
    return {"on": on, "datum": "whole"}


def step(
    operation: str, heats: int = 0, welds: int = 0, heated: Stored | None = None, **params: Any
) -> Stored:
    stored: Stored = {"operation": operation, "params": params, "heats": heats}
    if welds:
        stored["welding_heats"] = welds
    return {**stored, "heated": heated} if heated else stored


def part(key: str, section: Stored, length: float, *steps: Stored, quantity: int = 1) -> Stored:
    numbered = [{"key": f"s{number}", **one} for number, one in enumerate(steps, start=1)]
    stock = {"section": section, "length": length}
    return {"key": key, "name": key.capitalize(), "quantity": quantity, "stock": stock, "steps": numbered}


def project(forging: float, welding: float, *parts: Stored) -> Stored:
    return {
        "format": "forgesite.procedure",
        "version": 1,
        "title": "A worked project",
        "scale": {"forging": forging, "welding": welding},
        "parts": list(parts),
    }


HOOK = project(
    0.05,
    0.15,
    part(
        "hook",
        square(10),
        400,
        step("mark_out", marks=[{"name": "N", **end("hook", 22)}]),
        step("taper", 1, where=end("hook", length=12), end_section=square(3)),
        step(
            "set_down",
            1,
            where=mark("hook", "N", toward="start", length=8),
            target=square(6),
            sides="all",
            mark="K",
            heated=mark("hook", "N", toward="start", length=8),
        ),
        step("mark_out", marks=[{"name": "E", **mark("hook", "K", toward="start", offset=20)}]),
        step("draw_out", 2, where=mark("hook", "K", toward="start", length=20), target=square(6)),
        step(
            "change_section",
            1,
            where={"on": "hook", "datum": "between", "mark": "E", "mark_to": "N"},
            shape="round",
            rule="size",
            size=6,
        ),
        step(
            "cut_off",
            1,
            at=mark("hook", "E"),
            method="hot_cut",
            keep="end",
            heated=mark("hook", "E", toward="both", length=20),
        ),
        step("spread", 2, where=mark("hook", "N"), outline="leaf", thickness=2.5, width=22),
        step("texture", 1, where=mark("hook", "N"), depth=0.8),
        step("taper", 2, where=start("hook", length=30), end_section=disc(3)),
        step("loop", 1, on="hook", end="start", inside_diameter=6, sweep=270),
        step("bend", 1, where=start("hook", 30), meaning="arc_start", angle=180, inside_radius=12),
        step("bend", 1, where=mark("hook", "N", toward="start", offset=8), angle=30, inside_radius=8),
        step("finish", where=whole("hook"), coat="wax"),
    ),
)

_FEET = [mark("ring", name) for name in ("F1", "F2", "F3")]

TRIVET = project(
    0.03,
    0.10,
    part(
        "ring",
        square(16),
        498,
        step("cut_off", at=end("ring", 2), kerf=2),
        step("upset", 2, where=end("ring", length=30), target=square(18)),
        step("upset", 2, where=start("ring", length=30), target=square(18)),
        step("scarf", 1, on="ring", length=24, lip=3, heated=end("ring", length=14.01)),
        step(
            "scarf",
            1,
            on="ring",
            end="start",
            length=24,
            lip=3,
            face="down",
            heated=start("ring", length=14.01),
        ),
        step(
            "bend",
            4,
            where={"on": "ring", "datum": "centre"},
            angle=360,
            inside_radius=70,
            heated=whole("ring"),
        ),
        step("weld_ring", 0, 2, on="ring", zone=40, inside=140),
        step("planish", 1, where=whole("ring"), tool="cone mandrel, flatter"),
        step(
            "mark_out",
            marks=[
                {"name": name, **start("ring", 496 * share)}
                for name, share in (("F1", 0.12), ("F2", 0.453333), ("F3", 0.786667))
            ],
        ),
        step("punch", 3, where=_FEET, size=7.5, face="edge"),
        step("rivet", 1, where=_FEET, part="foot", grip=16, side="left", turned=90),
        step("straighten", where=whole("ring"), takes_out="bow", cold=True),
        step("finish", where=whole("ring"), coat="food_oil", place="food"),
    ),
    part(
        "foot",
        square(12),
        110,
        step("cut_off", at=end("foot", 2), kerf=2),
        step(
            "tenon", 2, on="foot", end="start", section=disc(7), length=26.5, heated=start("foot", length=7.2)
        ),
        step("taper", 2, where=end("foot", length=55), end_section=square(8)),
        step("flatten", 1, where=end("foot", length=14), thickness=4, spread=0.703),
        step("bend", 1, where=end("foot", 20), meaning="arc_end", angle=75, inside_radius=6),
        quantity=3,
    ),
)

BRACKET = project(
    0.03,
    0.10,
    part(
        "bracket",
        flat(30, 8),
        330,
        step(
            "mark_out",
            marks=[
                {"name": "C", **end("bracket", 150)},
                {"name": "P", **end("bracket", 172)},
                {"name": "B", **start("bracket", 95)},
                {"name": "H1", **start("bracket", 15)},
                {"name": "H2", **start("bracket", 65)},
            ],
        ),
        step("punch", 1, where=[mark("bracket", name) for name in ("H1", "H2", "P")], size=6.5),
        step(
            "punch",
            1,
            where=[mark("bracket", "C")],
            size=5,
            heated=mark("bracket", "C", toward="both", length=5),
        ),
        step(
            "split",
            3,
            where=mark("bracket", "C"),
            children=["left", "right"],
            heated=end("bracket", length=150),
        ),
        step("open_split", 1, on="arms", angles=[80, -80], heated=start("arms", length=30)),
        step("taper", 4, where=whole("arms"), end_section=flat(6, 4)),
        step("scroll", 3, on="arms", inner=7, outer=32, turns=1.75, turn="left", mirrored=True),
        step("open_split", 1, on="arms", angles=[35, -35]),
        step("bend", 1, where=mark("bracket", "B"), angle=90, inside_radius=10),
        step("rivet", 1, where=[mark("bracket", "P")], part="pricket", through="pan", grip=10, side="up"),
        step("finish", where=whole("bracket"), coat="wax"),
    ),
    part(
        "pricket",
        disc(10),
        70,
        step("taper", 2, where=end("pricket", length=30), end_section=disc(2)),
        step(
            "tenon",
            1,
            on="pricket",
            end="start",
            section=disc(6),
            length=18,
            heated=start("pricket", length=6.5),
        ),
    ),
    part(
        "pan",
        flat(90, 2),
        70.686,
        step("dish", 1, where=whole("pan"), depth=9, blank=90),
        step("drill", where=[end("pan", 35.343)], size=6.5),
    ),
)

HEARTH_SET = project(
    0.03,
    0.10,
    part(
        "poker",
        square(12),
        560,
        step(
            "mark_out",
            marks=[
                {"name": "T1", **start("poker", 140)},
                {"name": "T2", **start("poker", 300)},
                {"name": "W", **end("poker", 75)},
            ],
        ),
        step("taper", 3, where=start("poker", length=80), end_section=square(6)),
        step("twist", 1, where={"on": "poker", "datum": "between", "mark": "T1", "mark_to": "T2"}, turns=3),
        step("loop", 2, on="poker", end="start", inside_diameter=36, sweep=330),
        step("point", 2, where=end("poker", length=25), tip=3),
        step("upset", 2, where=mark("poker", "W", toward="both", length=24), target=square(13.5)),
        step(
            "weld_side",
            0,
            2,
            where=mark("poker", "W"),
            seat=24,
            part="spur",
            part_zone=18,
            dressed=square(13),
            angle=45,
        ),
        step(
            "bend", 1, where=start("spur", 4), meaning="arc_start", angle=70, inside_radius=12, turn="right"
        ),
        step("finish", where=whole("poker"), coat="oil", place="fire"),
    ),
    part(
        "spur",
        square(10),
        80,
        step("taper", 2, where=end("spur", length=30), end_section=square(3)),
        step("upset", 1, where=start("spur", length=18), target=square(12)),
        step("scarf", 1, on="spur", end="start", length=18, lip=3, heated=start("spur", length=11.5)),
    ),
    part(
        "rake",
        disc(12),
        600,
        step("mark_out", marks=[{"name": "R1", **start("rake", 150)}]),
        step("draw_out", 3, where=start("rake", length=90), target=disc(9)),
        step("loop", 2, on="rake", end="start", inside_diameter=36, sweep=330),
        step("upset", 3, where=end("rake", length=36), target=disc(16)),
        step(
            "weld_jump",
            0,
            2,
            on="rake",
            jump=5,
            zone=30,
            part="blade",
            part_mark="M",
            part_zone=36,
            arms=["wing left", "wing right"],
            group="wings",
        ),
        step("planish", where=whole("rake")),
    ),
    part("blade", flat(40, 6), 110, step("mark_out", marks=[{"name": "M", **start("blade", 55)}])),
)
