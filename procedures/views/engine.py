"""The engine for a phone: a Python that runs in a browser, and our own modules for it."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import brotli
from django.http import Http404, HttpRequest, HttpResponse
from django.urls import reverse
from django.views.decorators.cache import cache_control
from django.views.decorators.http import require_safe
from django.views.decorators.vary import vary_on_headers

from procedures.access import anyone
from procedures.engine_archive import engine_archive
from procedures.presenting.edition import edition

VERSION = "314.0.7"
LOCK = {"abi_version": "2026_0", "arch": "wasm32", "platform": "emscripten_5_0_3", "python": "3.14.2"}
RUNTIME = Path(__file__).resolve().parents[1] / "vendor" / "pyodide"
COMPRESSED = {
    "pyodide.mjs": "text/javascript",
    "pyodide.asm.mjs": "text/javascript",
    "pyodide.asm.wasm": "application/wasm",
}
AS_IT_IS = {"python_stdlib.zip": "application/zip"}
FOREVER = cache_control(public=True, immutable=True, max_age=365 * 24 * 3600)


def engine_addresses() -> dict[str, Any]:
    """Return what a page tells the worker: where the runtime and the engine are."""
    runtime = reverse("procedures:runtime", args=[VERSION, "pyodide.mjs"])
    return {
        "runtime": runtime.removesuffix("pyodide.mjs"),
        "archive": reverse("procedures:engine_archive", args=[edition()]),
        "lock": json.dumps({"info": LOCK, "packages": {}}),
    }


def engine_files() -> dict[str, int]:
    """Return the addresses of all that the engine needs, with how many bytes each is on its way."""
    names = {name: f"{name}.br" for name in COMPRESSED} | {name: name for name in AS_IT_IS}
    found = {
        reverse("procedures:runtime", args=[VERSION, name]): (RUNTIME / stored).stat().st_size
        for name, stored in names.items()
    }
    return found | {engine_addresses()["archive"]: len(engine_archive())}


@anyone
@require_safe
@FOREVER
@vary_on_headers("Accept-Encoding")
def runtime(request: HttpRequest, version: str, name: str) -> HttpResponse:
    """Anyone: a file of the Python that runs in a browser. Another version has another address."""
    if version != VERSION:
        raise Http404("This version is no longer kept.")
    if name in AS_IT_IS:
        return HttpResponse((RUNTIME / name).read_bytes(), content_type=AS_IT_IS[name])
    if name not in COMPRESSED:
        raise Http404("There is no such file.")
    packed = (RUNTIME / f"{name}.br").read_bytes()
    if "br" in request.headers.get("Accept-Encoding", ""):
        response = HttpResponse(packed, content_type=COMPRESSED[name])
        response["Content-Encoding"] = "br"
        return response
    return HttpResponse(brotli.decompress(packed), content_type=COMPRESSED[name])


@anyone
@require_safe
@FOREVER
def archive(request: HttpRequest, digest: str) -> HttpResponse:
    """Anyone: the engine's own modules, at an address that changes with them."""
    if digest != edition():
        raise Http404("This edition of the engine is no longer served.")
    return HttpResponse(engine_archive(), content_type="application/zip")
