"""What the author's page answers with: all of it, its parts for htmx, or only what one change changed."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any

from django.contrib import messages
from django.http import HttpResponse, HttpResponseBase, QueryDict
from django.shortcuts import redirect, render
from django.template.loader import render_to_string
from django.utils.formats import time_format
from django.utils.safestring import SafeString
from django.utils.timezone import localtime
from django_htmx.http import push_url

from procedures import editing
from procedures.access import MemberRequest
from procedures.actions import EditConflict
from procedures.engine.parameters.fields import DocumentError
from procedures.forms import Entry, PartForm, StepForm
from procedures.forms.step import OWN, RECORD
from procedures.models import Procedure

from .bench import Bench

AT_BENCH = "procedures/author/"


def wants_parts(request: MemberRequest) -> bool:
    """Whether the page is there already, and parts of it are asked for."""
    return bool(request.htmx) and not request.htmx.history_restore_request


def readable_draft(view: Callable[..., HttpResponseBase]) -> Callable[..., HttpResponseBase]:
    """Show a draft that does not read any more as that, with where its fault is and the ways on."""

    @wraps(view)
    def shown(request: MemberRequest, procedure: Procedure, *args: Any, **kwargs: Any) -> HttpResponseBase:
        try:
            return view(request, procedure, *args, **kwargs)
        except DocumentError as error:
            context = {"procedure": procedure, "error": error}
            return render(request, AT_BENCH + "unreadable.html", context, status=409)

    return shown


def page(bench: Bench, status: int = 200, **more: Any) -> HttpResponse:
    """Return the page, or all its parts, with the step or the bar at the bench."""
    panel = more.pop("panel", AT_BENCH + ("_step.html" if bench.step else "_bar.html"))
    context = {"bench": bench, "panel": panel, **more}
    if not wants_parts(bench.request):
        return render(bench.request, AT_BENCH + "page.html", context, status=status)
    response = render(bench.request, AT_BENCH + "_whole.html", context, status=status)
    is_page = bench.request.method == "GET"
    return push_url(response, bench.request.get_full_path() if is_page else bench.here)


def moved_on(bench: Bench, said: str) -> HttpResponse:
    """Return the answer to a change of the list: the page where the bench is now."""
    if not wants_parts(bench.request):
        return redirect(bench.here)
    return page(bench, said=said)


def edited(bench: Bench) -> HttpResponse:
    """Return the answer to a change of values: all that may have changed, but not what is typed in."""
    if not wants_parts(bench.request):
        return redirect(bench.here)
    context = {"bench": bench, "rows": bench.rows_changed}
    return render(bench.request, AT_BENCH + "_answer.html", context)


def form_again(bench: Bench, form: StepForm) -> HttpResponse:
    """Return the form as it was typed, with a row more or less."""
    bench.typed = form
    if not wants_parts(bench.request):
        return page(bench)
    return render(bench.request, AT_BENCH + "_step_form.html", {"bench": bench, "oob": True})


def refused(bench: Bench, form: StepForm) -> HttpResponse:
    """Return the answer to what does not parse: what is wrong, beside the fields."""
    bench.typed = form
    if not wants_parts(bench.request):
        return page(bench, status=422)
    return render(bench.request, AT_BENCH + "_refused.html", {"bench": bench}, status=422)


def refused_bar(bench: Bench, form: PartForm) -> HttpResponse:
    """Return the same for the form of the bar."""
    bench.typed_bar = form
    if not wants_parts(bench.request):
        return page(bench, status=422)
    return render(bench.request, AT_BENCH + "_refused.html", {"bench": bench}, status=422)


def turned_down(bench: Bench, reason: str) -> HttpResponse:
    """Return the answer to a change that cannot be made: the page as it is, and the reason."""
    if not wants_parts(bench.request):
        messages.error(bench.request, reason)
        return redirect(bench.here)
    return page(bench, status=422, said=reason)


# -- conflicts ---------------------------------------------------------------------------------------


def conflicted(bench: Bench, data: QueryDict, conflict: EditConflict) -> HttpResponse:
    """Return both versions of a step that was saved elsewhere meanwhile, and what was typed untouched."""
    assert conflict.theirs is not None
    form = bench.typed = bench.step_form(data)
    mine = StepForm(conflict.mine, form.kind, bench.offer)
    theirs = StepForm(conflict.theirs, form.kind, bench.offer)
    rows = [_row(one, other) for one, other in zip(mine.entries, theirs.entries, strict=True)]
    rows.append(_row(mine.heated, theirs.heated))
    for name in OWN:
        label = str(form.fields[name].label)
        rows.append(versions(label, conflict.mine.get(name), conflict.theirs.get(name)))
    rows += [
        versions(str(form.fields[name].label), mine[name].value(), theirs[name].value()) for name in RECORD
    ]
    return both(bench, "step-form", rows, conflict, editing.step_digest(conflict.theirs))


def shown_gone(bench: Bench, form: StepForm) -> HttpResponse:
    """Return what was typed of a step that was deleted elsewhere meanwhile, and the way to put it back."""
    stored = {**form.step, **{key: one for key, one in form.fields_to_store.items() if one is not None}}
    mine = StepForm(stored, form.kind, bench.offer)
    rows = [versions(one.label, one.words, "") for one in mine.entries]
    rows.append(versions("Note", stored.get("note"), ""))
    sent = [
        (key, one) for key, one in bench.request.POST.items() if key not in ("csrfmiddlewaretoken", "over")
    ]
    context = {
        "bench": bench,
        "rows": [one for one in rows if one["yours"]],
        "sent": sent,
        "action": bench.request.path,
        "faults": [error for errors in form.errors.values() for error in errors],
    }
    name = "_gone_answer.html" if wants_parts(bench.request) else "gone.html"
    return render(bench.request, AT_BENCH + name, context, status=409)


def both(
    bench: Bench, form_id: str, rows: list[dict[str, Any]], conflict: EditConflict, over: str
) -> HttpResponse:
    """Return two versions of what is at the bench, and the choice between them."""
    rows = [one for one in rows if one["yours"] or one["theirs"]]
    shown = {
        "title": "This was changed while you worked on it",
        "theirs": f"Saved by {who(conflict, bench.request)}",
        "rows": rows,
        "actions": choice(form_id, over, bench.here),
    }
    if not wants_parts(bench.request):
        return page(bench, status=409, conflict=shown)
    context = {"bench": bench, "conflict": shown}
    return render(bench.request, AT_BENCH + "_conflict_answer.html", context, status=409)


def choice(form_id: str, over: str, take: str) -> SafeString:
    """Return the two buttons of a conflict: save over what is there, or go to `take` and see it."""
    context = {"form_id": form_id, "over": over, "take": take}
    return SafeString(render_to_string(AT_BENCH + "_conflict_actions.html", context))


def _row(mine: Entry, theirs: Entry) -> dict[str, Any]:
    return versions(mine.label, mine.words, theirs.words)


def versions(label: str, mine: Any, theirs: Any) -> dict[str, Any]:
    """Return one line of two versions side by side."""
    mine, theirs = ("" if one in (None, 0) else str(one) for one in (mine, theirs))
    return {"label": label, "yours": mine, "theirs": theirs, "differs": mine != theirs}


def who(conflict: EditConflict, request: MemberRequest) -> str:
    """Return who saved last and when: another window of one's own is named as that."""
    at = f", {time_format(localtime(conflict.at), 'H:i')}" if conflict.at else ""
    if conflict.by is None or conflict.by == request.user:
        return f"you in another window{at}"
    return f"{conflict.by.get_username()}{at}"
