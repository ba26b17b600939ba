"""What people say, as HTML: `{{ answer.words|noted }}`."""

from django import template
from django.utils.safestring import SafeString

from procedures import markdown

register = template.Library()


@register.filter
def noted(text: str) -> SafeString:
    """Return words in the site's Markdown as HTML that is safe whatever was typed."""
    return markdown.render(text)
