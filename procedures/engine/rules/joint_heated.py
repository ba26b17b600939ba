"""Collars and rivets after everything they hold."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from calculators.wording import say
from procedures.engine.frames import Flag, Frame, PartReplay
from procedures.engine.judging.deeds import done, family, is_red, run_after, run_before
from procedures.engine.judging.rule import Case, PartRule, move_after
from procedures.engine.pieces.joint import Joint
from procedures.engine.pieces.place import Span
from procedures.engine.scale import ScaleHabit
from procedures.engine.shaping.checks import WELD_NEAR
from procedures.engine.trial import at, beginning, end, flat, part, step, trials, whole

_AT_H = {"on": "bar", "datum": "mark", "mark": "H"}
_MARK = step("mark_out", marks=[{"name": "H", **at(100, "start")}], heats=0)
_HOLE = step("punch", where=[_AT_H], size=8, heats=2)
_RIVET = step("rivet", where=[_AT_H], part="foot")
_DRAWN = step("draw_out", where=beginning(70), target=flat(25, 6), heats=2)
_FAR = step("draw_out", where=end(70), target=flat(25, 6), heats=2)
_BENT = step("bend", where=at(160, "start"), angle=30, inside_radius=40)
_COLLAR = step("collar", where=[at(300, "start")], part="rod", section=flat(20, 4))
_BEND = step("bend", where=at(340, "start"), angle=30, inside_radius=40, cold=True, heats=0)
_TRUED = step("straighten", where=whole(), takes_out="bow", cold=True, heats=0)
_TRUED_HOT = step("straighten", where=whole(), takes_out="bow")
_OILED = step("finish", where=whole(), coat="food_oil", place="food", heats=1)
_PIN = {"shape": "round", "diameter": 7.5}
_FOOT = part(
    step("tenon", on="foot", end="start", section=_PIN, length=19, tongs="V-bit tongs"),
    key="foot",
    length=120,
)


class JointHeated(PartRule):
    """Looks for collars, rivets and the like that lie in or near the work or the heat of a later step."""

    code = "order.joint_heated"
    title = "Collars and rivets last"
    help = (
        "A collar or a rivet holds because it shrank on cooling. Heated again together with what it holds, "
        "or hammered and bent beside, it works loose. Finish what is clasped first. Truing it cold, and the "
        "heat for wax or oil, do no harm."
    )
    source = "60 mm from memory; the order is common practice"

    def look_at(self, part: PartReplay, scale: ScaleHabit) -> Iterator[Flag]:
        makers: dict[tuple[str, str, str], Frame] = {}
        loosened: dict[str, tuple[Frame, Joint, list[Frame]]] = {}
        for frame in done(part):
            new = {_key(one) for one in frame.after.joints} - {_key(one) for one in frame.before.joints}
            joint = _disturbed(frame, makers) if makers and not new else None
            if joint is not None:
                maker = makers[_key(joint)]
                loosened.setdefault(maker.key, (maker, joint, []))[2].append(frame)
            makers |= dict.fromkeys(new, frame)
        for maker, joint, frames in loosened.values():
            yield self._flag(maker, joint, frames)

    def _flag(self, maker: Frame, joint: Joint, frames: list[Frame]) -> Flag:
        """Return what is to say once of all steps that loosen what one step joined."""
        first, *more = frames
        so = say(" So it does by {more:count} more after this.", more=len(more)) if more else say("")
        return self.flag(
            first,
            "The {joint} of step {number:count}, {title}, works loose by this step beside it.{so}",
            hint="Join it when they are all done." if more else "Do this step before it.",
            mend=move_after(maker, frames[-1]),
            also=more,
            joint=joint.said,
            number=maker.number,
            title=maker.title,
            so=so,
        )

    examples = (
        Case(
            "A bar drawn close to the foot riveted to it",
            trials(part(_MARK, _HOLE, _RIVET, _DRAWN, section=flat(25, 8)), _FOOT),
            fires=("s4",),
        ),
        Case(
            "Drawn and then bent close to it: told once",
            trials(part(_MARK, _HOLE, _RIVET, _DRAWN, _BENT, section=flat(25, 8)), _FOOT),
            fires=("s4",),
        ),
        Case(
            "The bar drawn before the foot comes on",
            trials(part(_MARK, _DRAWN, _HOLE, _RIVET, section=flat(25, 8)), _FOOT),
        ),
        Case(
            "A bar bent cold beside the collar that clasps it",
            trials(part(_COLLAR, _BEND), part(key="rod", length=200)),
            fires=("s2",),
        ),
        Case(
            "Bent first, then clasped",
            trials(part(_BEND, _COLLAR), part(key="rod", length=200)),
        ),
        Case(
            "Riveted, trued cold and oiled",
            trials(part(_MARK, _HOLE, _RIVET, _TRUED, _OILED, section=flat(25, 8)), _FOOT),
        ),
        Case(
            "Riveted, then trued at a red heat",
            trials(part(_MARK, _HOLE, _RIVET, _TRUED_HOT, section=flat(25, 8)), _FOOT),
            fires=("s4",),
        ),
        Case(
            "The other end of the bar",
            trials(part(_MARK, _HOLE, _RIVET, _FAR, section=flat(25, 8)), _FOOT),
        ),
    )


def _key(joint: Joint) -> tuple[str, str, str]:
    return joint.kind, joint.name, joint.other


def _disturbed(frame: Frame, makers: Mapping[tuple[str, str, str], Frame]) -> Joint | None:
    """Return the first joint of an earlier step, no weld, that this step works beside or heats."""
    spans = _disturbs(frame)
    joints = (one for one in frame.before.joints if _key(one) in makers and not one.is_weld)
    return next((one for one in joints if _is_near(spans, one)), None)


def _disturbs(frame: Frame) -> tuple[Span, ...]:
    """Return the ranges that a step makes red hot, or gives another shape cold by hammer or by bending."""
    if is_red(frame):
        return frame.heated
    shapes = family(frame) in ("move", "bend") and run_before(frame) != run_after(frame)
    return frame.worked if shapes else ()


def _is_near(spans: tuple[Span, ...], joint: Joint) -> bool:
    return any(
        span.low - WELD_NEAR < place < span.high + WELD_NEAR
        for span in spans
        for place in joint.on(span.branch)
    )
