"""Stock from the finished piece: asked in the address, answered, printed, and put into the draft."""

from __future__ import annotations

from dataclasses import replace
from typing import Any
from urllib.parse import parse_qsl, urlencode

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, QueryDict
from django.shortcuts import redirect, render
from django.views.decorators.http import require_POST, require_safe

from calculators.bar_sizes import StockBar
from procedures import actions, editing
from procedures.access import MemberRequest, may_edit, procedure_editor, procedure_reader
from procedures.actions import EditConflict, Refused
from procedures.engine import document as engine_document
from procedures.engine.document import Document, write_part
from procedures.engine.frames import PartReplay
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import replay_part
from procedures.forms.stock import StockForm
from procedures.forms.stock import wants as wants_of
from procedures.forms.typed import length_text
from procedures.full_size import FullSizeError
from procedures.models import Procedure
from procedures.presenting.full_size import FullSize, Wish
from procedures.presenting.measured_targets import measured_targets, stock_bounds
from procedures.presenting.procedures import ShownProcedure
from procedures.presenting.shops import sections_held
from procedures.presenting.stock import StockAnswer, StockWish
from procedures.presenting.stock_rows import StockRows
from procedures.printing.full_size import full_size_pdf

from .answers import readable_draft
from .chosen_shop import ChosenShop, chosen_shop
from .printing import imprint_of
from .rows import bench_address
from .wanted import Wanted, readable, wanted_by

ASKED = ("part", "want", "size", "also", "also_size", "find", "bar", "keep", "price", "measured")


@procedure_reader
@readable
@require_safe
def stock(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: what bar a part takes so that it comes out as the address asks."""
    wanted = wanted_by(request, procedure)
    part = _part(wanted.document, request.GET, nominal=wanted.nominal)
    chosen = chosen_shop(request, wanted.document)
    form, answer = _asked(request.GET, wanted.document, part, wanted, chosen)
    context: dict[str, Any] = {
        "procedure": procedure,
        "wanted": wanted,
        "form": form,
        "part": part.part,
        "asked": parse_qsl(wanted.asked, keep_blank_values=True),
        "is_complete": part.is_complete,
        "links": _part_links(wanted, part.part.key),
        "bar": wanted.units.section(part.part.section) + " × " + wanted.units.length(part.part.length),
        "query": urlencode([(key, request.GET[key]) for key in ASKED if request.GET.get(key)]),
        "bare": urlencode(
            [(k, request.GET[k]) for k in ASKED if request.GET.get(k) and k not in ("bar", "keep")]
        ),
        "unsolved": urlencode([(k, request.GET[k]) for k in ASKED if request.GET.get(k) and k != "find"]),
        "may_apply": may_edit(request.user, procedure),
        "from_original": _from_original(wanted, form),
        "measured": request.GET.get("measured", ""),
    }
    if answer is not None:
        context |= _shown(answer) | {"chosen": chosen}
        context["bounds"] = stock_bounds(answer, request.GET.get("measured", ""))
        stored = next(one for one in wanted.parts if one["key"] == part.part.key)
        context["base"] = editing.part_digest(stored)
    return render(request, "procedures/stock/page.html", context, status=422 if form.errors else 200)


@procedure_reader
@readable
@require_safe
def stock_strip(request: HttpRequest, procedure: Procedure) -> HttpResponse:
    """Who may read it: the mark-out strip of the bar that was found, at full size, as PDF."""
    wanted = wanted_by(request, procedure)
    part = _part(wanted.document, request.GET, nominal=wanted.nominal)
    _, answer = _asked(request.GET, wanted.document, part, wanted)
    solved = answer.solved if answer else None
    if solved is None:
        raise Http404("There is no such stock.")
    wish = Wish(paper=request.GET.get("paper", ""), patterns=(f"{part.part.key}:strip",))
    key = wanted.key("stock-strip", wish, *(request.GET.get(one, "") for one in ASKED))
    try:
        made = full_size_pdf(
            key,
            lambda: FullSize(solved, wanted.units, wish, nominal=wanted.nominal),
            imprint_of(request, wanted),
        )
    except FullSizeError as error:
        raise Http404(str(error)) from error
    response = HttpResponse(made, content_type="application/pdf")
    name = f"{procedure.slug}-{part.part.key}-strip.pdf"
    response["Content-Disposition"] = f'inline; filename="{name}"'
    response["Cache-Control"] = "private, no-cache"
    return response


@procedure_editor
@readable_draft
@require_POST
def apply_stock(request: MemberRequest, procedure: Procedure) -> HttpResponse:
    """Owner: put the stock that was found into the draft; undo takes it back."""
    try:
        document = engine_document.read(procedure.document, draft=True)
    except DocumentError as error:
        raise Http404(error.message) from error
    nominal = request.POST.get("view") == "nominal"
    part = _part(document, request.POST, nominal=nominal)
    wanted = Wanted(procedure, None, request.units, nominal)
    _, answer = _asked(request.POST, document, part, wanted)
    found = answer.part if answer else None
    if found is None:
        messages.error(request, "Nothing was changed: there is no such stock for the draft as it is now.")
        return redirect("procedures:stock", slug=procedure.slug)
    stored = write_part(found)
    changed = ("stock",) if found.steps == part.part.steps else ("stock", "steps")
    try:
        actions.edit_part(
            procedure=procedure,
            part=found.key,
            fields={name: stored[name] for name in changed},
            base=request.POST.get("base", ""),
            by=request.user,
        )
    except EditConflict:
        messages.error(request, "Nothing was changed: this part was edited since. Look at the answer again.")
        query = urlencode([(key, request.POST[key]) for key in ASKED if request.POST.get(key)])
        return redirect(f"{procedure.get_absolute_url()}stock/?{query}&draft")
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("procedures:stock", slug=procedure.slug)
    messages.success(request, "The bar is in the draft now. Undo takes it back.")
    return redirect(bench_address(procedure.slug, found.key))


# -- what is asked -----------------------------------------------------------------------------------


def _part(document: Document, given: QueryDict, *, nominal: bool) -> PartReplay:
    key = given.get("part") or document.parts[0].key
    if document.part(key) is None:
        raise Http404("There is no such part in this procedure.")
    return replay_part(document, key, nominal=nominal)


def _asked(
    given: QueryDict, document: Document, part: PartReplay, wanted: Wanted, shop: ChosenShop | None = None
) -> tuple[StockForm, StockAnswer | None]:
    """Return the form, and the answer where it was filled in as it should be."""
    data = given if "want" in given else None
    form = StockForm(wanted.units, part, data)
    if data is None or not form.is_valid() or not form.targets:
        return form, None
    wish = StockWish(
        part.part.key, tuple(form.targets), form.unknown, form.section, form.same_metal, form.price
    )
    if shop is not None and not shop.is_usual:
        name = shop.row.name if shop.row else ""
        bars = sections_held(shop.row.bars) if shop.row else ()
        held = tuple(StockBar(one, f"in {name}") for one in bars)
        wish = replace(wish, shop=shop.profile, held=held)
    return form, StockAnswer(document, wanted.units, wish, nominal=wanted.nominal)


def _from_original(wanted: Wanted, form: StockForm) -> list[dict[str, Any]]:
    """Return what was measured of the original and can be asked for, with the links that fill the form."""
    part = form.replayed.part.key
    wants = {key for key, _ in wants_of(form.replayed)}
    rows = []
    for one in measured_targets(wanted.document, part, wants):
        links = []
        for name, mm in one.sizes:
            given = {"part": part, "want": one.want, "size": length_text(wanted.units, mm)}
            query = urlencode({**given, "find": "length", "measured": one.key})
            href = f"?{query}&{wanted.asked}" if wanted.asked else f"?{query}"
            links.append({"name": name, "size": wanted.units.size(mm), "href": href})
        rows.append({"what": one.what, "links": links})
    return rows


def _shown(answer: StockAnswer) -> dict[str, Any]:
    """Return what the page shows of an answer."""
    rows = StockRows(answer)
    found: dict[str, Any] = {"answer": answer, "rows": rows, "solved": answer.answer is not None}
    if answer.replayed is not None:
        found["shown"] = ShownProcedure(answer.replayed, answer.units).part(answer.wish.part)
    return found


def _part_links(wanted: Wanted, key: str) -> list[dict[str, Any]]:
    more = f"&{wanted.asked}" if wanted.asked else ""
    return [
        {"text": one["name"], "href": f"?part={one['key']}{more}", "current": one["key"] == key}
        for one in wanted.parts
    ]
