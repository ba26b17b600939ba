"""Accounts: signing up, signing in, a forgotten password, and who tries too often."""

import re

import pytest
from django.contrib.auth import get_user_model
from django.urls import reverse

PASSWORD = "drawn-out-24-mm"
HOME = reverse("procedures:home")

pytestmark = pytest.mark.django_db


@pytest.fixture
def alice():
    return get_user_model().objects.create_user("alice", "alice@example.org", PASSWORD)


def sign_up(client, **changes):
    entered = {"email": "bob@example.org", "username": "bob", "password1": PASSWORD, "password2": PASSWORD}
    return client.post(reverse("account_signup"), entered | changes)


def sign_in(client, login, password=PASSWORD):
    return client.post(reverse("account_login"), {"login": login, "password": password})


def signed_in_as(client):
    key = client.session.get("_auth_user_id")
    return key and get_user_model().objects.get(pk=key).username


@pytest.mark.parametrize("name", ["account_login", "account_signup", "account_reset_password"])
def test_account_page_opens_for_a_stranger(client, name):
    page = client.get(reverse(name))
    assert page.status_code == 200
    assert b"<main" in page.content


def test_signing_up_signs_in_without_waiting_for_mail(client):
    assert sign_up(client).url == HOME
    assert signed_in_as(client) == "bob"


@pytest.mark.parametrize(
    "changes",
    [
        pytest.param({"email": "not an address"}, id="no e-mail address"),
        pytest.param({"password1": "12345678", "password2": "12345678"}, id="guessable password"),
        pytest.param({"password2": "something else"}, id="passwords differ"),
        pytest.param({"username": "ALICE"}, id="taken name"),
    ],
)
def test_sign_up_is_refused_beside_the_field(client, alice, changes):
    page = sign_up(client, **changes)
    assert page.status_code == 200
    assert set(page.context["form"].errors) <= {*changes, "password2"}
    assert page.context["form"].errors
    assert signed_in_as(client) is None


@pytest.mark.parametrize("login", ["alice", "alice@example.org", "Alice@Example.org"])
def test_name_or_address_signs_in(client, alice, login):
    assert sign_in(client, login).url == HOME
    assert signed_in_as(client) == "alice"


def test_wrong_password_is_refused(client, alice):
    page = sign_in(client, "alice", "wrong")
    assert page.status_code == 200
    assert page.context["form"].errors
    assert signed_in_as(client) is None


def test_who_guesses_too_often_must_wait_even_with_the_right_password(client, alice):
    for guess in range(5):
        sign_in(client, "alice", f"guess {guess}")
    page = sign_in(client, "alice")
    assert signed_in_as(client) is None
    assert b"Too many failed" in page.content


def test_forgotten_password_is_changed_by_the_link_in_the_mail(client, alice, mailoutbox):
    client.post(reverse("account_reset_password"), {"email": "alice@example.org"})
    (mail,) = mailoutbox
    assert mail.to == ["alice@example.org"]
    link = re.search(r"http://testserver(/accounts/\S+)", mail.body)[1]
    form = client.get(link, follow=True)
    changed = {"password1": "upset-back-to-30-mm", "password2": "upset-back-to-30-mm"}
    client.post(form.request["PATH_INFO"], changed)
    client.logout()
    sign_in(client, "alice", "upset-back-to-30-mm")
    assert signed_in_as(client) == "alice"


def test_reset_for_an_unknown_address_gives_nothing_away(client, alice):
    known = client.post(reverse("account_reset_password"), {"email": "alice@example.org"})
    unknown = client.post(reverse("account_reset_password"), {"email": "nobody@example.org"})
    assert (known.status_code, known.url) == (unknown.status_code, unknown.url)


def test_sign_in_leads_to_no_other_site(client, alice):
    entered = {"login": "alice", "password": PASSWORD, "next": "https://elsewhere.example.org/"}
    assert client.post(reverse("account_login"), entered).url == HOME


def test_signing_out_takes_a_press_not_a_link(client, alice):
    client.force_login(alice)
    client.get(reverse("account_logout"))
    assert signed_in_as(client) == "alice"
    client.post(reverse("account_logout"))
    assert signed_in_as(client) is None
