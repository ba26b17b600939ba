"""The import map: a name for every behaviour in static/js, so that adding one is adding its file.

Libraries in static/vendor are in it too; they are loaded when a behaviour first imports them.
"""

import json
from functools import cache

from django import template
from django.contrib.staticfiles.finders import get_finders
from django.templatetags.static import static
from django.utils.safestring import SafeString, mark_safe

register = template.Library()

FOLDERS = {"js/": "forgesite/", "vendor/": "vendor/"}  # where modules lie, and what their names begin with


@cache
def module_paths() -> tuple[str, ...]:
    """Return the path of every module, in order: "js/author/steps.js", "js/theme.js"."""
    found = {path for finder in get_finders() for path, _ in finder.list(None)}
    # Windows lists with backslashes.
    paths = {path.replace("\\", "/") for path in found}
    return tuple(sorted(path for path in paths if path.startswith(tuple(FOLDERS)) and path.endswith(".js")))


@register.simple_tag
def import_map() -> SafeString:
    """Return the map as JSON: {"imports": {"forgesite/theme": "/static/js/theme.55e.js"}}.

    Hashed static files do not rewrite imports, so modules know each other by these names only.
    """
    names = {_name(path): static(path) for path in module_paths()}
    # A "<" in a name could end the script element.
    return mark_safe(json.dumps({"imports": names}).replace("<", "\\u003c"))  # noqa: S308


def _name(path: str) -> str:
    folder = next(one for one in FOLDERS if path.startswith(one))
    return FOLDERS[folder] + path.removeprefix(folder).removesuffix(".js")
