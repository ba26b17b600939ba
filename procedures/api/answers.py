"""How answers are made: conditional, paged, with links."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.utils.cache import get_conditional_response
from django.utils.http import quote_etag

from procedures.engine.document_text import LARGEST, parse
from procedures.engine.parameters.fields import DocumentError

from .problems import Problem

Fields = dict[str, Any]
BODY_OF_DOCUMENT = {
    "requestBody": {
        "required": True,
        "description": "A procedure's document, as /schema/procedure-1.json has it.",
        "content": {"application/json": {"schema": {"type": "object"}}},
    }
}


def unchanged(request: HttpRequest, etag: str, changed: datetime | None = None) -> HttpResponse | None:
    """Return 304 where who asks has this already, else None."""
    when = int(changed.timestamp()) if changed else None
    answer = HttpResponse()
    answer["ETag"] = quote_etag(etag)
    found = get_conditional_response(request, etag=quote_etag(etag), last_modified=when, response=answer)
    return found if found is not None and found.status_code != 200 else None


def told(value: Any, *, etag: str = "", changed: datetime | None = None, status: int = 200) -> HttpResponse:
    """Return a value as JSON, with what to ask for it by the next time."""
    body = json.dumps(value, ensure_ascii=False, separators=(",", ":"))
    answer = HttpResponse(body, content_type="application/json; charset=utf-8", status=status)
    # Pages of other sites may read it: no cookie counts here, so they see what any stranger sees.
    answer["Access-Control-Allow-Origin"] = "*"
    if etag:
        answer["ETag"] = quote_etag(etag)
    if changed:
        answer.headers["Last-Modified"] = changed.strftime("%a, %d %b %Y %H:%M:%S GMT")
    return answer


def document_in(request: HttpRequest) -> Fields:
    """Return the document that a request brings. Raises Problem."""
    if request.content_type != "application/json":
        raise Problem(415, "Send the document as application/json.")
    if int(request.headers.get("Content-Length") or 0) > LARGEST:
        raise Problem(413, f"A document has at most {LARGEST // 1_000_000} MB.")
    try:
        found = parse(request.body)
    except DocumentError as error:
        raise Problem(400, str(error)) from error
    if not isinstance(found, Mapping):
        raise Problem(422, "A document is an object.")
    return dict(found)


def draft_asked(request: HttpRequest) -> str:
    """Return the digest of the draft that is to be changed, as If-Match names it. Raises Problem."""
    sent = request.headers.get("If-Match", "").strip()
    if not sent:
        raise Problem(428, "Say which draft you change: If-Match with the ETag of its document.")
    return sent.removeprefix("W/").strip('"')
