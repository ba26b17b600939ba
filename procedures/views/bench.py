"""What the author's page shows: the draft replayed, its list of steps, and the one at the bench."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cached_property
from typing import TYPE_CHECKING, Any

from django.http import QueryDict
from django.utils.safestring import SafeString

from procedures import editing, queries
from procedures.access import MemberRequest, may_manage
from procedures.editing import Stored
from procedures.engine.catalogue import find
from procedures.engine.document import Document
from procedures.engine.pieces.piece import Piece
from procedures.engine.replay import Frame, PartReplay, Replay
from procedures.forms import Offer, PartForm, PhotoForm, StepForm
from procedures.models import Procedure
from procedures.presenting import ShownPart, ShownProcedure, ShownStep

from .bench_addresses import Addresses
from .bench_findings import BenchFinding, bench_finding, stop_link
from .kept import Shown, shown
from .rows import Row, rendered, rows_of
from .shown_photos import photo_finder
from .stages import Stage, stage_of
from .wanted import Wanted

if TYPE_CHECKING:
    from procedures.drawing import PartDrawing

TALLEST = 360  # px of the metal in one view: the form under the drawing should be seen too


class Bench(Addresses):
    """The author's page for one draft, with one part open and one of its steps, or its bar, at the bench.

    Everything is reckoned when it is first asked for; DocumentError is raised then, where the draft no
    longer reads.
    """

    def __init__(self, request: MemberRequest, procedure: Procedure, part: str = "", step: str = "") -> None:
        self.request = request
        self.procedure = procedure
        self.user = request.user
        self.units = request.units
        self.earlier: Shown | None = None  # what was shown before the change that is being answered
        keys = [one["key"] for one in procedure.document["parts"]]
        self.part_key = part if part in keys else keys[0]
        self.step_key = step
        # A form that was posted and has something wrong with it, to be shown as it was typed.
        self.typed: StepForm | None = None
        self.typed_bar: PartForm | None = None

    @cached_property
    def may_manage(self) -> bool:
        """Whether the draft may be published from here."""
        return may_manage(self.user, self.procedure)

    @property
    def document(self) -> Document:
        """The draft as the engine reads it. Raises DocumentError."""
        return self.procedure.read()

    # -- the replay ------------------------------------------------------------------------------

    @cached_property
    def kept(self) -> Shown:
        """What is remembered of this version of the draft, reckoned now if nothing is."""
        return shown(self.procedure)

    @property
    def replayed(self) -> Replay:
        """The draft replayed."""
        return self.kept.replayed

    @cached_property
    def shown(self) -> ShownProcedure:
        """The same in the reader's units."""
        return ShownProcedure(self.replayed, self.units, find_photo=photo_finder(self.procedure, self.units))

    @cached_property
    def part(self) -> ShownPart:
        """The part that is open."""
        found = self.shown.part(self.part_key)
        assert found is not None
        return found

    @cached_property
    def step(self) -> ShownStep | None:
        """The step at the bench, or None when it is the bar."""
        return self.part.step(self.step_key) if self.step_key else None

    @cached_property
    def rows(self) -> tuple[Row, ...]:
        """The steps of the open part, as the list shows them."""
        known = self.kept.rows.get(self._list)
        if known is None:
            basis = self.kept.basis
            earlier = basis.list_of(self.part_key, self.units) if basis else None
            known = self.kept.rows[self._list] = rows_of(self.part, self.procedure, earlier)
        return known

    @property
    def _list(self) -> tuple[str, str]:
        return self.part_key, self.units.id

    @property
    def rendered_rows(self) -> list[SafeString]:
        """The same as HTML."""
        return [rendered(row, current=row.key == self.step_key) for row in self.rows]

    @property
    def rows_with_pictures(self) -> list[SafeString]:
        """The same for a whole page, with pictures for browsers without script."""
        return [rendered(row, current=row.key == self.step_key, whole=True) for row in self.rows]

    @property
    def rows_changed(self) -> list[SafeString] | None:
        """The rows that differ from those shown before the change, to be swapped; None for the whole list."""
        since = self.earlier.rows.get(self._list) if self.earlier else None
        if since is None or [one.key for one in since] != [one.key for one in self.rows]:
            return None
        changed = [new for old, new in zip(since, self.rows, strict=True) if new != old]
        return [rendered(row, current=row.key == self.step_key, oob=True) for row in changed]

    # -- what is stored --------------------------------------------------------------------------

    @property
    def stored_part(self) -> Stored:
        """The open part as stored."""
        return editing.part_of(self.procedure.document, self.part_key)

    @property
    def stored_step(self) -> Stored:
        """The step at the bench as stored. Raises NoSuchPlace."""
        return editing.step_of(self.procedure.document, self.part_key, self.step_key)

    @property
    def base(self) -> str:
        """The digest of what the form at the bench edits."""
        if self.step is None:
            return editing.part_digest(self.stored_part)
        return editing.step_digest(self.stored_step)

    @property
    def has_step(self) -> bool:
        """Whether the step asked for is in the open part, found without replaying it."""
        return any(one["key"] == self.step_key for one in self.stored_part.get("steps", []))

    @property
    def number(self) -> int:
        """The number of the step at the bench, 0 for the bar."""
        return self.step.number if self.step else 0

    @property
    def stage(self) -> Stage:
        """The stage that is drawn: what the step at the bench leaves, or the finished piece."""
        wanted = Wanted(self.procedure, None, self.units, nominal=False)
        return stage_of(wanted, self.part_key, self.number or None)

    # -- the form --------------------------------------------------------------------------------

    def step_form(self, data: QueryDict | None = None, *, offering: bool = True) -> StepForm:
        """Return the form of the step at the bench. Raises NoSuchPlace.

        To save one it need not know what is there to choose from; finding that out costs a replay.
        """
        stored = self.stored_step
        kind = find(stored["operation"])
        if not offering:
            return StepForm(stored, kind, Offer(self.units), data)
        return StepForm(stored, kind, self.offer, data, self.solved)

    @cached_property
    def form(self) -> StepForm:
        """The form to show: as it was typed where something is wrong with it."""
        form = self.typed or self.step_form()
        for entry in form.entries:
            entry.findings = [one for one in self._findings(form) if one.field == entry.name]
        return form

    @cached_property
    def part_form(self) -> PartForm:
        """The form of the open part."""
        return self.typed_bar or PartForm(self.units, self.stored_part)

    @cached_property
    def photo_form(self) -> PhotoForm:
        """The form for one more photo."""
        return PhotoForm()

    @cached_property
    def photos(self) -> list[dict[str, Any]]:
        """The photos of the step at the bench; `shown` is None for one whose file is not here."""
        find_photo = photo_finder(self.procedure, self.units)
        named = self.step.frame.step.photos if self.step else ()
        return [
            {"digest": one.digest, "alt": one.alt, "caption": one.caption, "shown": find_photo(one)}
            for one in named
        ]

    @property
    def offer(self) -> Offer:
        """What the form of the step may offer."""
        others = tuple((one.key, one.name) for one in self.document.parts if one.key != self.part_key)
        frame = self.step.frame if self.step else None
        return Offer(self.units, frame.before if frame else None, others)

    @property
    def solved(self) -> dict[str, Any]:
        """The stored values of parameters that are not given, where they follow from others."""
        frame = self.step.frame if self.step else None
        if frame is None or frame.operation is None:
            return {}
        given, params = frame.step.params, frame.operation.params()
        return {name: params[name].write(value) for name, value in frame.solved.items() if name not in given}

    @property
    def settled(self) -> bool:
        """Whether what is on the page is saved."""
        return self.typed is None and self.typed_bar is None

    # -- findings --------------------------------------------------------------------------------

    def _findings(self, form: StepForm) -> Iterator[BenchFinding]:
        """Yield what the checks say of the step at the bench."""
        for one in self.step.frame.findings if self.step else ():
            yield bench_finding(one, form, self.step_key, self.units)

    @property
    def general_findings(self) -> list[BenchFinding]:
        """Stops, wherever they belong, and what belongs to no field that is seen.

        What is not filled in yet is told at its field only.
        """
        fields = {entry.name for entry in self.form.shown_entries}
        return [
            one
            for one in self._findings(self.form)
            if one.field not in fields or (one.level == "stop" and one.code != "step.incomplete")
        ]

    @property
    def stops(self) -> list[dict[str, Any]]:
        """Every stop of the procedure, as links to its step."""
        return [stop_link(self.procedure, frame, one, self.units) for frame, one in self.replayed.stops]

    # -- drawings --------------------------------------------------------------------------------

    @property
    def drawing(self) -> SafeString:
        """The large drawing: the step at the bench or the piece it finds; for the bar, the finished piece.

        It has a scale of its own, as large as it goes. The list beside it is what keeps to one scale, and
        that takes the measure of every step.
        """
        frames = self.part.replayed.frames
        if self.step is None:
            return SafeString(self._pen(self.part.replayed.final).final())
        done = [one for one in frames[: self.step.number] if one.status == "done"]
        if not done:
            return SafeString(self._pen(self.part.replayed.start).final())
        return SafeString(self._pen(done[-1].before, done[-1]).step(done[-1]))  # the drawing code escapes

    def _pen(self, start: Piece, *frames: Frame) -> PartDrawing:
        from procedures.drawing import PartDrawing  # slow to import, and most requests draw nothing

        alone = PartReplay(self.part.part, start, frames)
        return PartDrawing(alone, self.units, "screen", tallest=TALLEST)

    @property
    def drawing_words(self) -> str:
        """What the drawing is of, where it is not simply the step."""
        if self.step is None:
            return "The finished piece." if self.part.is_complete else "The piece before the step that stops."
        if self.step.status == "done":
            return ""
        return "The piece before this step: the step itself does not come about yet."

    @cached_property
    def history(self) -> queries.History:
        """What can be undone and done again."""
        return queries.history(self.procedure)
