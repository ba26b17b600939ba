"""What needs no account: the operations, the calculators, and a replay of any document."""

from __future__ import annotations

from typing import Any, Literal

from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from ninja import Router

from calculators.formulary import all_formulas
from calculators.wording import METRIC, UNIT_SYSTEMS
from procedures.engine import document as engine_document
from procedures.engine.catalogue import catalogue, find, gist
from procedures.engine.operation import Operation
from procedures.engine.parameters.fields import DocumentError
from procedures.engine.replay import replay as replayed
from procedures.engine.schema import params_schema
from procedures.presenting.calculators import Calculator
from procedures.presenting.edition import edition
from procedures.report import report

from .answers import BODY_OF_DOCUMENT, Fields, document_in, told, unchanged
from .problems import Problem
from .shapes import AnswerOut, CalculatorsOut, OperationOut, OperationsOut

router = Router(tags=["Reference"])
Units = Literal["metric", "inch"]


@router.get("/operations", response=OperationsOut, summary="All operations")
def operations(request: HttpRequest) -> HttpResponse:
    """The catalogue, with what a step of each operation is told."""
    etag = f"operations-{edition()}"
    same = unchanged(request, etag)
    return same or told({"results": [_operation(request, one) for one in catalogue().values()]}, etag=etag)


@router.get("/operations/{operation}", response=OperationOut, summary="One operation")
def operation(request: HttpRequest, operation: str) -> HttpResponse:
    """An operation of the catalogue."""
    kind = find(operation)
    if kind is None:
        raise Http404("There is no operation of this name.")
    return told(_operation(request, kind))


def _operation(request: HttpRequest, kind: type[Operation]) -> Fields:
    return {
        "id": kind.id,
        "title": kind.title,
        "family": kind.family,
        "synonyms": list(kind.synonyms),
        "about": gist(kind),
        "url": request.build_absolute_uri(reverse("procedures:operation", args=[kind.id])),
        "parameters": params_schema(kind),
    }


@router.post("/replay", response=dict[str, Any], openapi_extra=BODY_OF_DOCUMENT, summary="Replay a document")
def replay(
    request: HttpRequest,
    nominal: bool = False,
    estimate: Literal["low", "typical", "high"] = "typical",
) -> HttpResponse:
    """Reckon a document and keep nothing: every section, length, mass, mark and finding, step by step."""
    try:
        read = engine_document.read(document_in(request), draft=True)
    except DocumentError as error:
        raise Problem(422, str(error)) from error
    return told(report(replayed(read, nominal=nominal, estimate=estimate)))


@router.get("/calculators", response=CalculatorsOut, summary="All calculators")
def calculators(request: HttpRequest) -> HttpResponse:
    """The calculators, with what each takes."""
    etag = f"calculators-{edition()}"
    same = unchanged(request, etag)
    return same or told({"results": [_calculator(request, one) for one in all_formulas()]}, etag=etag)


def _calculator(request: HttpRequest, name: str) -> Fields:
    one = Calculator(all_formulas()[name], {}, METRIC)
    return {
        "id": one.id,
        "title": one.title,
        "about": one.gist,
        "takes": {field.name: f"{field.label}: {field.takes}" for field in one.fields},
        "url": request.build_absolute_uri(reverse("procedures:calculator", args=[one.id])),
    }


@router.get("/calculators/{calculator}", response=AnswerOut, summary="Reckon")
def calculate(request: HttpRequest, calculator: str, units: Units = "metric") -> HttpResponse:
    """Answer the numbers of the query, by the names that the calculator takes, typed as on its page."""
    kind = all_formulas().get(calculator)
    if kind is None:
        raise Http404("There is no calculator of this name.")
    one = Calculator(kind, request.GET.dict(), UNIT_SYSTEMS[units])
    if one.wrong:
        faults = {field.name: field.error for field in one.fields if field.error}
        raise Problem(422, " ".join(faults.values()), errors=faults)
    page = reverse("procedures:calculator", args=[one.id])
    return told(
        {
            "id": one.id,
            "given": one.texts,
            "label": one.result,
            "value": one.value,
            "working": one.working,
            "further": [
                {"label": value.label, "value": value.value, "working": value.working}
                for value in one.further
            ],
            "warnings": list(one.warnings),
            "source": one.source,
            "url": request.build_absolute_uri(f"{page}?{one.query}"),
        }
    )
