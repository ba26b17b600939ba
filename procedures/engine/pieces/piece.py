"""The piece on the anvil: a tree of branches, its groups and joints, and the ledger of its metal.

Pieces never change; every method that works one returns another. Volumes are in mm³, lengths in mm.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from calculators.materials import MATERIALS, Material
from calculators.sections import Section
from procedures.engine.finding import Finding, Unworkable, stop

from .branch import Attachment, Branch, Feature, Mark
from .joint import Joint
from .metal_left import check_length, left_by_scale
from .origin import Slice
from .place import Place, Point, Position, Span
from .segment import Segment, close, uniform

LossKind = Literal["scale", "kerf", "slug", "drill", "file", "weld", "measured"]


@dataclass(frozen=True, slots=True)
class Loss:
    """Metal gone from the piece. "measured" is what a measurement found different, and may be negative."""

    kind: LossKind
    volume: float


@dataclass(frozen=True, slots=True)
class Offcut:
    """A length cut off and kept: a piece of bar in its own right."""

    name: str
    segments: tuple[Segment, ...]
    volume: float

    @property
    def length(self) -> float:
        """Length [mm]."""
        return sum(one.length for one in self.segments)


@dataclass(frozen=True, slots=True)
class Stock:
    """The bar that a part starts from."""

    section: Section
    length: float


@dataclass(frozen=True)
class Piece:
    """A piece as it is between two steps.

    `branches` come parents first. `worked` says where the last step left its work, for drawings and words.
    `bench` holds the finished other parts that a step may bring in, by part key.
    """

    name: str
    stock: Stock
    material: Material
    branches: tuple[Branch, ...]
    groups: Mapping[str, tuple[str, ...]] = field(default_factory=dict)
    losses: tuple[Loss, ...] = ()
    offcuts: tuple[Offcut, ...] = ()
    joints: tuple[Joint, ...] = ()
    received: float = 0.0
    worked: tuple[Span, ...] = ()
    bench: Mapping[str, Piece] = field(default_factory=dict, compare=False)

    # -- what is there ---------------------------------------------------------------------------

    @property
    def root(self) -> Branch:
        """The branch that hangs on no other."""
        return self.branches[0]

    def branch(self, name: str) -> Branch:
        """Return a branch by name. Raises Unworkable when the piece has none such."""
        for one in self.branches:
            if one.name == name:
                return one
        raise Unworkable(self._nothing_called(name))

    def has_branch(self, name: str) -> bool:
        """Whether a branch of this name is on the piece now."""
        return any(one.name == name for one in self.branches)

    def members(self, name: str) -> tuple[str, ...]:
        """Return the branches meant by a branch or group name. Raises Unworkable for an unknown one."""
        if name in self.groups:
            return self.groups[name]
        return (self.branch(name).name,)

    def _nothing_called(self, name: str) -> Finding:
        have = ", ".join([one.name for one in self.branches] + [f"{one} (group)" for one in self.groups])
        return stop(
            "place.no_such_branch",
            "There is no branch or group called {name} at this step.",
            hint="There is: {have}.",
            have=have,
            name=name or "(none named)",
        )

    def spans(self, place: Place) -> tuple[Span, ...]:
        """Return the range meant on each branch. Raises Unworkable where it is not there."""
        return tuple(place.span(self.branch(name)) for name in self.members(place.on))

    def points(self, position: Position) -> tuple[Point, ...]:
        """Return the point meant on each branch. Raises Unworkable where it is not there."""
        return tuple(position.point(self.branch(name)) for name in self.members(position.on))

    def children(self, name: str, end: str | None = None) -> tuple[Branch, ...]:
        """Return the branches that hang on a branch, or only on one end of it."""
        return tuple(
            one
            for one in self.branches
            if one.attached and one.attached.parent == name and end in (None, one.attached.at)
        )

    @property
    def volume(self) -> float:
        """Volume of the piece [mm³]."""
        return sum(one.volume for one in self.branches)

    @property
    def mass(self) -> float:
        """Mass of the piece [kg]."""
        return self.mass_of(self.volume)

    def mass_of(self, volume: float) -> float:
        """Return the mass [kg] of a volume [mm³] of its material."""
        return volume * self.material.density * 1e-9

    @property
    def start_volume(self) -> float:
        """Volume of the bar it started from [mm³]."""
        return self.stock.section.area * self.stock.length

    def is_closed(self, name: str) -> bool:
        """Whether a branch is closed to a ring or a frame, its end held to its start."""
        branch = self.branch(name)
        return any(one.closes(branch) for one in self.joints)

    def lost(self, kind: LossKind | None = None) -> float:
        """Return the volume lost so far [mm³], all of it or of one kind."""
        return sum(one.volume for one in self.losses if kind in (None, one.kind))

    @property
    def imbalance(self) -> float:
        """Volume in less volume accounted for [mm³]: zero but for rounding, or a transform is wrong."""
        out = self.volume + self.lost() + sum(one.volume for one in self.offcuts)
        return self.start_volume + self.received - out

    # -- working it ------------------------------------------------------------------------------

    def with_branch(self, branch: Branch) -> Piece:
        """Return the piece with the branch of that name exchanged, or added at the end."""
        if not self.has_branch(branch.name):
            return replace(self, branches=(*self.branches, branch))
        return replace(
            self, branches=tuple(branch if one.name == branch.name else one for one in self.branches)
        )

    def without_branch(self, name: str) -> Piece:
        """Return the piece without a branch (its metal is the caller's to account for)."""
        groups = {key: tuple(one for one in names if one != name) for key, names in self.groups.items()}
        return replace(
            self,
            branches=tuple(one for one in self.branches if one.name != name),
            groups={key: names for key, names in groups.items() if names},
        )

    def reshaped(self, span: Span, *run: Segment) -> Piece:
        """Return the piece with the metal of a span worked into `run`, and the span noted as worked.

        Marks, features and side branches inside ride along by volume. `run` must hold the span's metal.
        Raises Unworkable when it comes to no length, or to more than any bar has.
        """
        branch = self.branch(span.branch)
        length = sum(one.length for one in run)
        check_length(branch, length)
        move = branch.mover(span.low, span.high, run)
        worked = Span(span.branch, span.low, span.low + length)
        piece = self.with_branch(branch.replaced(span.low, span.high, run))
        return piece.carrying(span.branch, move).noting(worked)

    def carrying(self, name: str, move: Callable[[float], float]) -> Piece:
        """Return the piece with what hangs on a branch, what it hangs by and its joints moved."""
        branches = tuple(_carried(one, name, move) for one in self.branches)
        joints = tuple(one.moved(name, move) for one in self.joints)
        return replace(self, branches=branches, joints=joints)

    def changed(self, span: Span, change: Callable[[Segment], Segment]) -> Piece:
        """Return the piece with each segment of a span changed in place, lengths kept, noted as worked."""
        branch = self.branch(span.branch).changed(span.low, span.high, change)
        return self.with_branch(branch).noting(span)

    def noting(self, *spans: Span) -> Piece:
        """Return the piece with these spans noted as where the step worked."""
        return replace(self, worked=(*self.worked, *spans))

    def receded(self, span: Span, depth_of: Callable[[Segment], float]) -> Piece:
        """Return the piece after scale took the skin of a span back, the metal entered as lost.

        Raises Unworkable where no metal would be left.
        """
        branch = self.branch(span.branch)
        slim = branch.changed(span.low, span.high, lambda one: left_by_scale(one, depth_of(one)))
        return self.with_branch(slim).losing("scale", branch.volume - slim.volume)

    def losing(self, kind: LossKind, volume: float) -> Piece:
        """Return the piece with a loss entered in the ledger (the metal itself is the caller's to remove)."""
        if not volume:
            return self
        by_kind = {one.kind: one for one in self.losses}  # one line a kind, however many the steps
        return replace(self, losses=tuple({**by_kind, kind: Loss(kind, self.lost(kind) + volume)}.values()))

    def marked(self, branch: str, mark: Mark) -> Piece:
        """Return the piece with a mark put on a branch, in the place of any earlier one of that name."""
        target = self.branch(branch)
        others = tuple(one for one in target.marks if one.name != mark.name)
        marks = tuple(sorted((*others, mark), key=lambda one: one.at))
        return self.with_branch(replace(target, marks=marks))

    def featured(self, branch: str, feature: Feature) -> Piece:
        """Return the piece with a feature put on a branch."""
        target = self.branch(branch)
        return self.with_branch(replace(target, features=(*target.features, feature)))

    def grouped(self, group: str, names: Iterable[str]) -> Piece:
        """Return the piece with a named group of branches."""
        return replace(self, groups={**self.groups, group: tuple(names)})

    def hung(self, branch: Branch, attached: Attachment) -> Piece:
        """Return the piece with a new branch hung on it."""
        return self.with_branch(replace(branch, attached=attached))


def _carried(branch: Branch, name: str, move: Callable[[float], float]) -> Branch:
    """Return a branch as it hangs once the metal of the branch `name` has moved.

    One that hangs as before is the same object: what was reckoned of it stays known.
    """
    held = branch.attached
    if held is None:
        return branch
    if held.parent == name and not isinstance(held.at, str):
        held = replace(held, at=move(held.at))
    if branch.name == name and not branch.is_held_at_start:
        held = replace(held, by=move(held.by))
    return branch if held is branch.attached else replace(branch, attached=held)


def bar(
    section: Section,
    length: float,
    *,
    name: str = "bar",
    marks: Mapping[str, float] | None = None,
    material_id: str = "mild_steel",
    material: Material | None = None,
    bench: Mapping[str, Piece] | None = None,
) -> Piece:
    """Return a plain bar of one section, with marks given as name: distance from its start [mm].

    Its material is a known one by id, or the one given.
    """
    segment = replace(uniform(section, length), origin=(Slice(name, 0.0, length),))
    placed = tuple(Mark(key, at) for key, at in sorted((marks or {}).items(), key=lambda one: one[1]))
    return Piece(
        name=name,
        stock=Stock(section, length),
        material=material or MATERIALS[material_id],
        branches=(Branch(name, (segment,), placed),),
        bench=bench or {},
    )


__all__ = ["Joint", "Loss", "Offcut", "Piece", "Stock", "bar", "close"]
