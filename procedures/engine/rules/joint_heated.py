"""Collars and rivets after everything they hold."""

from __future__ import annotations

from collections.abc import Iterator

from procedures.engine.checks import WELD_NEAR
from procedures.engine.deeds import done, is_hot
from procedures.engine.frames import Frame, Replay
from procedures.engine.joint import Joint
from procedures.engine.rule import Case, Flag, Rule, move_after
from procedures.engine.trial import at, beginning, end, flat, part, step, trials

_AT_H = {"on": "bar", "datum": "mark", "mark": "H"}
_MARK = step("mark_out", marks=[{"name": "H", **at(100, "start")}], heats=0)
_HOLE = step("punch", where=[_AT_H], size=8, heats=2)
_RIVET = step("rivet", where=[_AT_H], part="foot")
_DRAWN = step("draw_out", where=beginning(70), target=flat(25, 6), heats=2)
_FAR = step("draw_out", where=end(70), target=flat(25, 6), heats=2)
_PIN = {"shape": "round", "diameter": 7.5}
_FOOT = part(
    step("tenon", on="foot", end="start", section=_PIN, length=19, tongs="V-bit tongs"),
    key="foot",
    length=120,
)


class JointHeated(Rule):
    """Looks for collars, rivets and the like that lie in or near the heat of a later step."""

    code = "order.joint_heated"
    title = "Collars and rivets last"
    help = (
        "A collar or a rivet holds because it shrank on cooling. Heated again together with what it holds "
        "it works loose, and the parts scale in between. Finish what is clasped first."
    )
    source = "60 mm from memory; the order is common practice"

    def look(self, replayed: Replay) -> Iterator[Flag]:
        for one in replayed.parts:
            makers: dict[tuple[str, str, str], Frame] = {}
            for frame in done(one):
                new = {_key(joint) for joint in frame.after.joints} - {
                    _key(joint) for joint in frame.before.joints
                }
                if is_hot(frame) and not new and makers:
                    yield from self._heated(frame, makers)
                makers |= dict.fromkeys(new, frame)

    def _heated(self, frame: Frame, makers: dict[tuple[str, str, str], Frame]) -> Iterator[Flag]:
        for joint in frame.before.joints:
            maker = makers.get(_key(joint))
            if maker is not None and not joint.is_weld and _gets_hot(frame, joint):
                yield self.flag(
                    frame,
                    "The {joint} of step {number:count}, {title}, gets hot here and works loose.",
                    hint="Do this step before it.",
                    mend=move_after(maker, frame),
                    joint=joint.said,
                    number=maker.number,
                    title=maker.title,
                )
                return

    examples = (
        Case(
            "A bar drawn close to the foot riveted to it",
            trials(part(_MARK, _HOLE, _RIVET, _DRAWN, section=flat(25, 8)), _FOOT),
            fires=("s4",),
        ),
        Case(
            "The bar drawn before the foot comes on",
            trials(part(_MARK, _DRAWN, _HOLE, _RIVET, section=flat(25, 8)), _FOOT),
        ),
        Case(
            "The other end of the bar",
            trials(part(_MARK, _HOLE, _RIVET, _FAR, section=flat(25, 8)), _FOOT),
        ),
    )


def _key(joint: Joint) -> tuple[str, str, str]:
    return joint.kind, joint.name, joint.other


def _gets_hot(frame: Frame, joint: Joint) -> bool:
    return any(
        span.low - WELD_NEAR < place < span.high + WELD_NEAR
        for span in frame.heated
        for place in joint.on(span.branch)
    )
