"""Notes in Markdown: what they may hold, and that nothing else comes through."""

import pytest

from procedures.markdown import render


@pytest.mark.parametrize(
    ("typed", "shown"),
    [
        ("**bold** and *leaning*", "<p><strong>bold</strong> and <em>leaning</em></p>"),
        ("- one\n- two", "<ul>\n<li>one</li>\n<li>two</li>\n</ul>"),
        ("# Head", "<h4>Head</h4>"),
        ("##### Deep", "<h6>Deep</h6>"),
        ("a < b & c", "<p>a &lt; b &amp; c</p>"),
        ("~~no~~", "<p><s>no</s></p>"),
    ],
)
def test_markdown_becomes_html(typed, shown):
    assert render(typed).strip() == shown


@pytest.mark.parametrize(
    "typed",
    [
        "<script>alert(1)</script>",
        "<img src=x onerror=alert(1)>",
        "[x](javascript:alert(1))",
        "[x](data:text/html,<script>alert(1)</script>)",
        '<a href="http://a" onclick="alert(1)">x</a>',
        "![x](http://elsewhere.example/x.png)",
        "<style>p{display:none}</style>",
    ],
)
def test_nothing_that_runs_or_calls_elsewhere_comes_through(typed):
    html = render(typed)
    for bad in ("<script", "<img", 'href="javascript', 'href="data', "<style", '<a href="http://a" onclick'):
        assert bad not in html


def test_link_opens_without_telling_where_from():
    html = render("[x](https://example.org)")
    assert 'href="https://example.org"' in html
    assert "noopener" in html
    assert "nofollow" in html
