"""A smith keeps a shop, plans and costs in it, and teaches it: in a browser, by keyboard and on a phone."""

import pytest
from django.contrib.auth import get_user_model
from django.core.management import call_command
from playwright.sync_api import Page, expect

from procedures.models import Shop

HOOK = "/p/coat-hook-the-first-evening/"


@pytest.fixture(autouse=True)
def demo(transactional_db):
    call_command("load_demo", verbosity=0)


def apprentice():
    return get_user_model().objects.get(username="apprentice")


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("window", ["page", "phone"])
def test_pages_are_accessible_and_fit_their_window(request, window, scheme, sign_in, assert_accessible):
    page = request.getfixturevalue(window)
    page.emulate_media(color_scheme=scheme)
    sign_in(page, apprentice())
    shop = f"/shops/{Shop.objects.get(owner__username='apprentice').pk}/"
    addresses = ["/shops/", "/shops/new/", shop, f"{shop}learnt/", f"{HOOK}cost/?pieces=6&hour=42&money=EUR"]
    for address in (*addresses, f"{HOOK}heats/?losses"):
        assert page.goto(address).status == 200
        assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth"), address
        assert_accessible(page)


def test_shop_is_kept_planned_in_and_priced(page: Page, sign_in):
    sign_in(page, apprentice())
    page.goto(HOOK + "heats/")
    expect(page.get_by_role("heading", name="Reckoned for your shop, Evening class")).to_be_visible()
    page.get_by_role("link", name="your shops").click()
    page.get_by_role("link", name="Keep a shop").click()
    page.get_by_label("What you call it").fill("Barn")
    page.get_by_label("Cost of an hour at the forge").fill("30")
    page.get_by_text("Hammers, fire and anvil, figure by figure").click()
    page.get_by_label("Energy of a power hammer blow").fill("0")
    page.get_by_role("button", name="Save").click()
    expect(page.get_by_text("A power hammer of 0 J strikes nothing").first).to_be_visible()
    expect(page.get_by_label("What you call it")).to_have_value("Barn")
    page.get_by_label("Energy of a power hammer blow").fill("160")
    page.get_by_label("Bar 1, size").fill("10 sq")
    page.get_by_label("Bar 1, price").fill("2.5")
    page.get_by_role("button", name="Save").click()
    page.get_by_role("button", name="Predict for this one").click()
    expect(page.get_by_text("Heats and blows are reckoned for Barn now")).to_be_visible()
    page.goto(HOOK)
    page.get_by_role("link", name="Cost", exact=True).click()
    expect(page.get_by_label("An hour of work")).to_have_value("30")
    expect(page.get_by_text("for your shop, Barn")).to_be_visible()
    page.get_by_label("Pieces").fill("4")
    page.get_by_role("button", name="Reckon it").click()
    expect(page.get_by_role("rowheader", name="In all")).to_be_visible()
    with page.expect_download() as kept:
        page.get_by_role("link", name="As CSV").click()
    assert kept.value.suggested_filename.endswith("cost.csv")


def test_blows_are_counted_and_one_far_out_is_asked_about(phone: Page, sign_in):
    sign_in(phone, apprentice())
    shop = Shop.objects.get(owner__username="apprentice")
    phone.goto(f"/shops/{shop.pk}/learnt/")
    expect(phone.get_by_role("heading", name="Blows, against the prediction")).to_be_visible()
    phone.get_by_role("link", name="Coat hook, the first evening", exact=True).first.click()
    phone.get_by_label("Blows").first.fill("9000")
    phone.get_by_role("button", name="Keep it").click()
    expect(phone.get_by_role("heading", name="Is this right?")).to_be_visible()
    phone.get_by_role("button", name="Leave it out").click()
    expect(phone.get_by_text("It is left out")).to_be_visible()
    expect(phone.get_by_role("heading", name="Is this right?")).to_have_count(0)
