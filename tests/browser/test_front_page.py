"""The front page in a real browser."""

import pytest


@pytest.mark.parametrize("window", ["page", "phone"])
def test_front_page_opens_without_errors_and_is_accessible(request, window, assert_accessible):
    page = request.getfixturevalue(window)
    answer = page.goto("/")
    assert answer.status == 200
    assert "forgesite" in page.title()
    assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth")
    assert_accessible(page)
