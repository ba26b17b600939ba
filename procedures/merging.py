"""What one side changed since a common base, step by step, and one such change taken over by the other.

Three documents in their stored form: `base`, which both come from; `theirs`, whose changes are looked at;
`mine`, which takes them over. Nothing of mine gives way but where both changed the same, and that is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

from . import editing
from .comparing import BAR, PartPair, StepPair, differing, matched, meant, pair_parts
from .editing import Stored

Kind = Literal["changed", "added", "removed", "moved", "bar", "part added", "part removed"]
State = Literal["open", "had", "conflict"]
VERBS = {"part added": "Part added", "part removed": "Part removed", "bar": "The bar changed"}


@dataclass(frozen=True, slots=True)
class StepChange:
    """One change of theirs. `base`, `theirs` and `mine` are the step, or the part, in each, or None.

    `step` is its key in the base, or in theirs when it is new there; "" for a part. `state` is "had" where
    mine has it already; `clashes` names what both changed differently.
    """

    kind: Kind
    part: str
    step: str
    base: Stored | None
    theirs: Stored | None
    mine: Stored | None
    state: State
    after: str | None = None  # the step of mine that it is to stand after, None for first
    clashes: tuple[str, ...] = ()

    @property
    def name(self) -> str:
        """What it is called in a form: the same as long as base and theirs are."""
        return f"{self.kind.replace(' ', '-')}/{self.part}/{self.step}"


def changes(base: Mapping[str, Any], theirs: Mapping[str, Any], mine: Mapping[str, Any]) -> list[StepChange]:
    """Return what theirs changed since the base, in the order of theirs."""
    own = {one["key"]: one for one in mine["parts"]}
    return [one for pair in pair_parts(base, theirs) for one in _part(pair, own.get(_key(pair)))]


def _key(pair: PartPair) -> str:
    return str((pair.new or pair.old or {})["key"])


def _part(pair: PartPair, mine: Stored | None) -> Iterator[StepChange]:
    key = _key(pair)
    old, new = (dict(one) if one else None for one in (pair.old, pair.new))
    if old is None:
        yield StepChange("part added", key, "", None, new, mine, _added(new, mine))
    elif new is None:
        state: State = "had" if mine is None else "open" if mine == old else "conflict"
        yield StepChange("part removed", key, "", old, None, mine, state)
    elif mine is None:  # I took the part out: what they did to it concerns me no more
        return
    else:
        if pair.bar:
            yield _bar(key, old, new, mine)
        yield from _steps(key, pair, mine)


def _added(theirs: Stored | None, mine: Stored | None) -> State:
    if mine is None:
        return "open"
    return "had" if mine == theirs else "conflict"


def _bar(key: str, base: Stored, theirs: Stored, mine: Stored) -> StepChange:
    changed = differing(base, theirs, BAR)
    clashes = tuple(
        one for one in changed if differing(base, mine, (one,)) and differing(theirs, mine, (one,))
    )
    had = not differing(theirs, mine, changed)
    state: State = "had" if had else "conflict" if clashes else "open"
    return StepChange("bar", key, "", base, theirs, mine, state, clashes=clashes)


def _steps(part: str, pair: PartPair, mine: Stored) -> Iterator[StepChange]:
    assert pair.old is not None
    assert pair.new is not None
    own = mine.get("steps", [])
    old = pair.old.get("steps", [])
    found = {old[a]["key"]: own[b] for a, b in matched(old, own).items()}
    new_of_mine = [one for one in own if one not in found.values()]
    order = _Order(pair.new.get("steps", []), own)
    for one in pair.steps:
        yield from _step(part, one, found, new_of_mine, order)


def _step(
    part: str, pair: StepPair, found: Mapping[str, Stored], new_of_mine: list[Stored], order: _Order
) -> Iterator[StepChange]:
    base, theirs = (dict(one) if one else None for one in (pair.old, pair.new))
    if base is None:
        assert theirs is not None
        had = next((one for one in new_of_mine if meant(one) == meant(theirs)), None)
        if had:
            new_of_mine.remove(had)  # of two alike that they added, mine may have one
        state: State = "had" if had else "open"
        yield StepChange("added", part, theirs["key"], None, theirs, had, state, order.before(theirs["key"]))
        return
    mine = found.get(base["key"])
    if theirs is None:
        state = "had" if mine is None else "open" if meant(mine) == meant(base) else "conflict"
        yield StepChange("removed", part, base["key"], base, None, mine, state)
        return
    after = order.before(theirs["key"])
    if pair.state == "changed":
        state, clashes = _changed(base, theirs, mine)
        yield StepChange("changed", part, base["key"], base, theirs, mine, state, after, clashes)
    if pair.moved and mine:
        state = "had" if order.stands_after(mine["key"], after) else "open"
        yield StepChange("moved", part, base["key"], base, theirs, mine, state, after)


def _changed(base: Stored, theirs: Stored, mine: Stored | None) -> tuple[State, tuple[str, ...]]:
    if mine is None:
        return "conflict", ("the step, which you took out",)
    if meant(mine) == meant(theirs):
        return "had", ()
    joined, clashes = merged(base, theirs, mine)
    if meant(joined) == meant(mine):
        return "had", ()
    return ("conflict" if clashes else "open"), clashes


class _Order:
    """Where the steps of theirs belong among mine."""

    def __init__(self, theirs: Sequence[Stored], mine: Sequence[Stored]) -> None:
        self.theirs = [one["key"] for one in theirs]
        self.mine = [one["key"] for one in mine]
        self.to_mine = {theirs[a]["key"]: mine[b]["key"] for a, b in matched(theirs, mine).items()}

    def before(self, key: str) -> str | None:
        """Return the key of my step that corresponds to the nearest one before theirs of this key."""
        earlier = reversed(self.theirs[: self.theirs.index(key)])
        return next((self.to_mine[one] for one in earlier if one in self.to_mine), None)

    def stands_after(self, key: str, after: str | None) -> bool:
        """Whether my step of this key stands right after another, or first."""
        at = self.mine.index(key)
        return (self.mine[at - 1] if at else None) == after


def merged(base: Stored, theirs: Stored, mine: Stored) -> tuple[Stored, tuple[str, ...]]:
    """Return a step with what either side changed, and the names of what both changed differently.

    Of those, theirs is taken. The key stays mine.
    """
    clashes: list[str] = []
    plain = [{name: value for name, value in one.items() if name != "params"} for one in (base, theirs, mine)]
    joined = _joined(plain[0], plain[1], plain[2], clashes)
    params = [one.get("params", {}) for one in (base, theirs, mine)]
    joined["params"] = _joined(params[0], params[1], params[2], clashes)
    joined["key"] = mine["key"]
    return joined, tuple(one for one in clashes if one not in ("key", "version"))


def _joined(base: Stored, theirs: Stored, mine: Stored, clashes: list[str]) -> Stored:
    joined = dict(mine)
    for name in {**base, **theirs, **mine}:
        was, new, own = base.get(name), theirs.get(name), mine.get(name)
        if new in (was, own):
            continue
        if own != was:
            clashes.append(name)
        joined.pop(name, None)
        if new is not None:
            joined[name] = new
    return joined


def taken(document: Mapping[str, Any], change: StepChange) -> Stored:
    """Return mine with a change of theirs taken over. Raises NoSuchPlace and TooMany."""
    if change.kind in ("bar", "part added", "part removed"):
        return _part_taken(document, change)
    mine, theirs = change.mine, change.theirs
    if change.kind == "removed":
        return editing.without_step(document, change.part, mine["key"]) if mine else dict(document)
    assert theirs is not None
    if change.kind == "moved":
        return _moved(document, change)
    if mine is None or change.base is None:
        keys = [one["key"] for one in editing.part_of(document, change.part).get("steps", [])]
        new = {**theirs, "key": editing.free_key(theirs["key"], keys)}
        return editing.with_step_after(document, change.part, new, change.after)
    joined, _ = merged(change.base, theirs, mine)
    return editing.with_step(document, change.part, mine["key"], lambda _: joined)


def _moved(document: Mapping[str, Any], change: StepChange) -> Stored:
    assert change.mine is not None
    key = change.mine["key"]
    others = [one["key"] for one in editing.part_of(document, change.part)["steps"] if one["key"] != key]
    index = others.index(change.after) + 1 if change.after in others else 0
    return editing.with_step_moved(document, change.part, key, index)


def _part_taken(document: Mapping[str, Any], change: StepChange) -> Stored:
    theirs = change.theirs
    if theirs is None:
        return editing.without_part(document, change.part)
    if change.kind == "part added":
        if change.mine is not None:
            return editing.with_part(document, change.part, lambda _: dict(theirs))
        return editing.with_part_added(document, theirs)
    names = differing(change.base or {}, theirs, BAR)
    new = {name: theirs[name] for name in names if name in theirs}
    gone = {name for name in names if name not in theirs}
    return editing.with_part(
        document, change.part, lambda one: {k: v for k, v in {**one, **new}.items() if k not in gone}
    )
