"""Set the fractions of an inch as fractions: `{{ row.after|fractions }}`."""

import re

from django import template
from django.utils.html import conditional_escape
from django.utils.safestring import SafeString, mark_safe

register = template.Library()

# The font's feature for fractions turns every figure it touches into a numerator,
# so it may touch nothing but the fraction.
_FRACTION = re.compile(r"(?<![\d/])\d{1,3}/\d{1,3}(?![\d/])")


@register.filter
def fractions(text: str) -> SafeString:
    """Return the text, escaped, with each "5/16" in a <span class="frac">."""
    return mark_safe(_FRACTION.sub(r'<span class="frac">\g<0></span>', conditional_escape(text)))  # noqa: S308 (escaped here)
