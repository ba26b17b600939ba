"""What is said about harm, on pages and papers alike: `{% notice "HOT_WORK" %}`."""

from django import template

from procedures import notices

register = template.Library()


@register.simple_tag
def notice(name: str) -> str:
    """Return the words of a notice; AttributeError for one there is not."""
    words: str = getattr(notices, name)
    return words
