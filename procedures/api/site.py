"""The API put together, and its description."""

from __future__ import annotations

from typing import Any

from ninja import NinjaAPI
from ninja.openapi.schema import OpenAPISchema

from procedures import notices

from . import own, problems, reading, reference, writing
from .problems import MEDIA_TYPE, Told
from .signing import EachAsker, anyone

ABOUT = f"""Procedures, their revisions and figures, for programs. House units: mm, kg, °C, s, degrees.

Without a token you read what everybody reads. A token is made on your account page and sent as
`Authorization: Bearer ...`. Answers have an ETag: send it as If-None-Match and get 304 when nothing changed;
to change a draft, name it as If-Match. Lists are paged, with `Link` headers. What goes wrong is told as
RFC 9457 problem details. {notices.WHOLE}"""
FAULTS = {
    400: "What was sent does not read.",
    401: "A token is needed, or the one sent opens nothing.",
    403: "The token does not let it.",
    404: "There is no such thing for who asks.",
    405: "This is not done here.",
    409: "It cannot be done as things stand.",
    410: "It was withdrawn, and why.",
    412: "The draft was changed since.",
    413: "It is too large.",
    415: "It is of a kind that is not taken.",
    422: "What was sent is refused, and why.",
    428: "Say which draft is changed.",
    429: "Too much was asked for; Retry-After says how many seconds to wait.",
}


class Api(NinjaAPI):
    """Ninja's, with every operation's faults described."""

    def get_openapi_schema(self, **more: Any) -> OpenAPISchema:
        """Return the description; faults are the same for all operations and are put in here."""
        schema = super().get_openapi_schema(**more)
        schemas = schema["components"].setdefault("schemas", {})
        schemas["Problem"] = Told.model_json_schema()
        shape = {MEDIA_TYPE: {"schema": {"$ref": "#/components/schemas/Problem"}}}
        for path in schema["paths"].values():
            for operation in path.values():
                told = {code: {"description": words, "content": shape} for code, words in FAULTS.items()}
                operation["responses"] = {
                    **told,
                    304: {"description": "You have it already."},
                    **operation["responses"],
                }
        return schema


api = Api(
    title="forgesite",
    version="1",
    description=ABOUT,
    urls_namespace="api-1",
    docs_url=None,
    auth=anyone,
    throttle=[EachAsker()],
)
problems.tell_all(api)
assert writing.router is reading.router  # one path, one router: what writes stands beside what reads
for room in (reading, reference, own):
    api.add_router("", room.router)
