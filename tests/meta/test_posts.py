"""Every address that takes posts limits their rate, and is closed to who may not write."""

import pytest
from django.conf import settings
from django.contrib.auth import get_user_model
from django.urls import get_resolver

from procedures.models import WritingBlock

from .test_access import PAGES, address_of_nothing

OPEN_TO_BLOCKED = {
    "units": "how one reads",
    "read_news": "what one has read",
    "read_warning": "the way to write again",
    "follow_thing": "what one reads, which nobody else sees",
    "drop_follow": "what one reads no more",
    "digest": "the mail one gets",
    "stop_digest": "the mail one gets no more",
    "export_account": "one's own to take away",
    "delete_account": "one's own to delete",
}


@pytest.mark.parametrize("page", PAGES)
def test_posts_are_limited(page):
    rate = getattr(page.callback, "limited", None)
    assert rate in settings.ACCOUNT_RATE_LIMITS, f"{page.name}: {rate!r} is no rate of the settings"


@pytest.fixture
def blocked(client, db):
    person = get_user_model().objects.create_user("mallory")
    WritingBlock.objects.create(user=person, why="It was abuse.")
    client.force_login(person)
    return client


@pytest.mark.parametrize("page", PAGES)
def test_posts_are_closed_to_who_may_not_write(blocked, page):
    answer = blocked.post(address_of_nothing(page))
    told = b"".join(answer) if answer.streaming else answer.content
    if page.name in OPEN_TO_BLOCKED:
        assert b"It was abuse." not in told
    else:
        assert answer.status_code == 403
        assert b"It was abuse." in told


@pytest.mark.parametrize("method", ["put", "patch", "delete"])
def test_so_is_every_other_way_to_write(blocked, method):
    for name in ("new", "publish", "ask", "guild_profile"):
        page = next(one.values[0] for one in PAGES if one.id == name)
        assert getattr(blocked, method)(address_of_nothing(page)).status_code == 403


def test_who_may_not_write_still_signs_out_and_minds_the_account(blocked):
    """The addresses of the accounts are the framework's: the way in and out, which is one's own."""
    others = {getattr(one, "namespace", None) or str(one.pattern) for one in get_resolver().url_patterns}
    assert others == {"procedures", "api-1", "accounts/", "healthz"}, "who may not write must not write there"
    assert blocked.post("/accounts/logout/").status_code == 302
    assert "_auth_user_id" not in blocked.session
