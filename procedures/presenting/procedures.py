"""A whole procedure as pages, cards and the phone show it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import Any

from calculators.wording import METRIC, UnitSystem
from procedures.engine.document import LEVELS, LICENCES, Document, Photo
from procedures.engine.originals import TEXTS
from procedures.engine.pieces.piece import Piece
from procedures.engine.replay import PartReplay, Replay, replay

from .figures import Fact, fact
from .findings import ShownFinding, counted
from .hazards import by_guarded
from .parts import LOSS_WORDS, ShownPart, once
from .record import Record
from .room import SCREEN, Room
from .steps import FindPhoto, ShownStep


def no_photo(photo: Photo) -> Any:
    """Find no photo: for pages that show none."""
    return None


class ShownProcedure:
    """A replayed procedure in the reader's units.

    `replayed` is the view shown; `twin` is the other one (nominal, or with scale) and is replayed only when
    something asks for it. `room` is what its drawings are made for. `find_photo` turns a document's photo
    into what the photo component takes, or None.
    """

    def __init__(
        self,
        replayed: Replay,
        units: UnitSystem = METRIC,
        *,
        room: Room = SCREEN,
        find_photo: FindPhoto | None = None,
    ) -> None:
        self.replayed = replayed
        self.units = units
        self.room = room
        self.find_photo = find_photo or no_photo
        self.document = replayed.document
        self.nominal = replayed.nominal

    @cached_property
    def twin(self) -> Replay:
        """The replay of the other view."""
        return replay(self.document, nominal=not self.nominal, estimate=self.replayed.estimate)

    @cached_property
    def parts(self) -> tuple[ShownPart, ...]:
        """Its parts in order."""
        return tuple(ShownPart(self, one) for one in self.replayed.parts)

    def part(self, key: str) -> ShownPart | None:
        """Return the part of this key, or None."""
        return next((one for one in self.parts if one.key == key), None)

    @property
    def steps(self) -> Iterator[ShownStep]:
        """Every step of every part."""
        return (step for part in self.parts for step in part.steps)

    @property
    def title(self) -> str:
        """The title."""
        return self.document.title

    @property
    def level(self) -> str:
        """The level in a word."""
        return LEVELS[self.document.level]

    @property
    def original(self) -> list[tuple[str, str]]:
        """What is said of the piece that is reproduced, by its label."""
        said = self.document.original
        texts = ((TEXTS[key][0], getattr(said, key)) for key in TEXTS) if said else ()
        return [(label, text) for label, text in texts if text]

    @cached_property
    def record(self) -> Record:
        """What is recorded of that piece: measurements, permissions, how each step is known."""
        return Record(self)

    @property
    def licence(self) -> str:
        """The licence, by its name and as SPDX calls it."""
        return f"{LICENCES[self.document.licence]} ({self.document.licence})"

    @property
    def is_complete(self) -> bool:
        """Whether every step of every part came about."""
        return self.replayed.is_complete

    # -- totals ----------------------------------------------------------------------------------

    @cached_property
    def heats(self) -> int:
        """Planned heats for everything that is made."""
        return sum(one.heats * one.quantity for one in self.parts)

    @cached_property
    def welding_heats(self) -> int:
        """Planned welding heats for everything that is made."""
        return sum(one.welding_heats * one.quantity for one in self.parts)

    @property
    def all_heats(self) -> int:
        """Planned heats of both kinds."""
        return self.heats + self.welding_heats

    @cached_property
    def totals(self) -> tuple[Fact, ...]:
        """The figures of the whole: mass in and out, what is lost, heats; all pieces counted."""
        start = scale = other = kept = added = 0.0
        for part in self.parts:
            first, last = part.replayed.start, part.replayed.final
            start += part.quantity * first.mass
            scale += part.quantity * first.mass_of(last.lost("scale"))
            other += part.quantity * first.mass_of(last.lost() - last.lost("scale"))
            kept += part.quantity * first.mass_of(sum(one.volume for one in last.offcuts))
            added += part.quantity * first.mass_of(self._added(part.replayed))
        end = start + added - scale - other - kept
        rows = [fact("Bar needed", self.units.mass(start)), fact("Finished", self.units.mass(end))]
        if added > 1e-6:
            rows.insert(1, fact("Rivets, collars and wire", self.units.mass(added)))
        lost = ((LOSS_WORDS["scale"], scale), ("Other losses", other), ("Offcuts kept", kept))
        rows += [fact(label, self.units.mass(mass)) for label, mass in lost if abs(mass) > 1e-6]
        rows.append(Fact("Heats", str(self.heats)))
        if self.welding_heats:
            rows.append(Fact("Welding heats", str(self.welding_heats)))
        return tuple(rows)

    def _added(self, part: PartReplay) -> float:
        """Return the metal [mm³] that came to a part and is of no other part, such as loose rivets."""
        brought = 0.0
        for frame in part.frames:
            if frame.operation and frame.status == "done":
                for key, count in frame.operation.uses(frame.before).items():
                    brought += count * self._finals[key].volume
        return part.final.received - brought

    @cached_property
    def _finals(self) -> dict[str, Piece]:
        return {one.replayed.part.key: one.replayed.final for one in self.parts}

    @cached_property
    def tools(self) -> tuple[str, ...]:
        """All hand tools, each once."""
        return once(tool for step in self.steps for tool in step.tools)

    @cached_property
    def tongs(self) -> tuple[str, ...]:
        """All tongs named, each once."""
        return once(step.tongs for step in self.steps if step.tongs)

    @cached_property
    def safety(self) -> tuple[str, ...]:
        """All safety lines, each once."""
        return once(line for part in self.parts for line in part.safety)

    @cached_property
    def hazards(self) -> list[tuple[str, tuple[str, ...]]]:
        """The same put together, by what they guard."""
        return by_guarded(self.safety)

    @cached_property
    def findings(self) -> dict[str, int]:
        """How many findings there are of each level."""
        return counted(one for part in self.replayed.parts for frame in part.frames for one in frame.findings)

    @cached_property
    def warnings(self) -> tuple[ShownFinding, ...]:
        """Every stop and caution, in the order of the steps."""
        return tuple(one for step in self.steps for one in step.warnings)


def present(
    document: Document,
    units: UnitSystem = METRIC,
    *,
    nominal: bool = False,
    room: Room = SCREEN,
    find_photo: FindPhoto | None = None,
) -> ShownProcedure:
    """Return a document replayed and ready to show; see ShownProcedure."""
    return ShownProcedure(replay(document, nominal=nominal), units, room=room, find_photo=find_photo)
