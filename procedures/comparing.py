"""Two stored documents held against each other: which part and which step of one is which of the other.

Works on the stored form, as `editing` does, since a draft may hold steps that do not read yet.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, Literal

Stored = Mapping[str, Any]
State = Literal["same", "changed", "added", "removed"]
ALIKE = 0.5  # share of the parameters that two steps of one operation have in common to be held for one
NOT_MEANT = ("key", "version")  # of a step: they name it, and say nothing of the work
DETAILS = ("title", "summary", "level", "licence", "credits", "scale")
BAR = ("name", "quantity", "material", "stock")
_USUAL: dict[str, Any] = {
    "quantity": 1,
    "material": "mild_steel",
    "level": "beginner",
    "licence": "CC-BY-4.0",
}


@dataclass(frozen=True, slots=True)
class StepPair:
    """A step in both documents, or in one of them; `moved` is whether it stands at another place."""

    old: Stored | None
    new: Stored | None
    moved: bool = False

    @property
    def state(self) -> State:
        """What became of it, but for its place."""
        if self.old is None:
            return "added"
        if self.new is None:
            return "removed"
        return "same" if meant(self.old) == meant(self.new) else "changed"

    @property
    def is_same(self) -> bool:
        """Whether nothing became of it at all."""
        return self.state == "same" and not self.moved


@dataclass(frozen=True, slots=True)
class PartPair:
    """A part in both documents, or in one of them, with its steps in the order of the new one."""

    old: Stored | None
    new: Stored | None
    steps: tuple[StepPair, ...]

    @property
    def bar(self) -> tuple[str, ...]:
        """The fields of the part itself that differ."""
        return differing(self.old or {}, self.new or {}, BAR) if self.old and self.new else ()


def meant(step: Stored) -> dict[str, Any]:
    """Return what a step says of the work; what is empty is as if it were not there."""
    return {key: value for key, value in step.items() if key not in NOT_MEANT and _is_given(value)}


def _is_given(value: Any) -> bool:
    return value not in (None, "", 0, [], {})


def differing(old: Stored, new: Stored, names: Iterable[str]) -> tuple[str, ...]:
    """Return the names among these whose values differ; one that is left out has its usual value."""
    return tuple(one for one in names if _value(old, one) != _value(new, one))


def _value(stored: Stored, name: str) -> Any:
    value = stored.get(name)
    return value if _is_given(value) else _USUAL.get(name)


def pair_parts(old: Stored, new: Stored) -> list[PartPair]:
    """Return the parts of two documents in pairs by their keys; those that went stand last."""
    before = {one["key"]: one for one in old["parts"]}
    after = {one["key"]: one for one in new["parts"]}
    return [
        PartPair(before.get(key), after.get(key), tuple(pair_steps(_steps(before, key), _steps(after, key))))
        for key in [*after, *(key for key in before if key not in after)]
    ]


def _steps(parts: Mapping[str, Stored], key: str) -> Sequence[Stored]:
    steps: Sequence[Stored] = parts[key].get("steps", ()) if key in parts else ()
    return steps


def pair_steps(old: Sequence[Stored], new: Sequence[Stored]) -> Iterator[StepPair]:
    """Yield the steps of two lists in pairs, in the order of the new one, each removed one where it stood."""
    found = matched(old, new)
    kept = _in_order([found[index] for index in sorted(found)])
    to_old = {after: before for before, after in found.items()}
    gone = (index for index in range(len(old)) if index not in found)
    waiting = next(gone, len(old))
    for index, step in enumerate(new):
        before = to_old.get(index)
        while before is not None and index in kept and waiting < before:
            yield StepPair(old[waiting], None)
            waiting = next(gone, len(old))
        if before is None:
            yield StepPair(None, step)
        else:
            yield StepPair(old[before], step, moved=index not in kept)
    while waiting < len(old):
        yield StepPair(old[waiting], None)
        waiting = next(gone, len(old))


def matched(old: Sequence[Stored], new: Sequence[Stored]) -> dict[int, int]:
    """Return which step is which, by their places: by the key, then by likeness, then by the key alone.

    Two people who add a step at the same time give it the same key: a key counts first where the operation
    is the same too.
    """
    found: dict[int, int] = {}
    keys = {one["key"]: index for index, one in enumerate(new)}
    same_key = [(index, keys[one["key"]]) for index, one in enumerate(old) if one["key"] in keys]
    found.update((a, b) for a, b in same_key if old[a]["operation"] == new[b]["operation"])
    _match_likely(old, new, found)
    taken = set(found.values())
    found.update((a, b) for a, b in same_key if a not in found and b not in taken)
    return found


def _match_likely(old: Sequence[Stored], new: Sequence[Stored], found: dict[int, int]) -> None:
    """Add pairs of steps of one operation that have much in common, the likest and nearest first."""
    taken = set(found.values())
    left = [index for index in range(len(old)) if index not in found]
    free = [index for index in range(len(new)) if index not in taken]
    likely = [
        (-share, abs(a - b), a, b)
        for a in left
        for b in free
        if old[a]["operation"] == new[b]["operation"] and (share := likeness(old[a], new[b])) >= ALIKE
    ]
    for _, _, a, b in sorted(likely):
        if a not in found and b not in taken:
            found[a] = b
            taken.add(b)


def likeness(one: Stored, other: Stored) -> float:
    """Return the share of their parameters that two steps have in common, 0 to 1."""
    mine, theirs = one.get("params", {}), other.get("params", {})
    names = {*mine, *theirs}
    return sum(mine.get(name) == theirs.get(name) for name in names) / len(names) if names else 1.0


def _in_order(places: Sequence[int]) -> set[int]:
    """Return the most of these places that already go upwards: those steps stayed, and the others moved."""
    ends: list[int] = []  # of the best run of each length, as places and as where they are in `places`
    at: list[int] = []
    before: list[int] = []
    for index, place in enumerate(places):
        length = bisect_left(ends, place)
        before.append(at[length - 1] if length else -1)
        ends[length : length + 1] = [place]
        at[length : length + 1] = [index]
    stayed = set()
    index = at[-1] if at else -1
    while index >= 0:
        stayed.add(places[index])
        index = before[index]
    return stayed
