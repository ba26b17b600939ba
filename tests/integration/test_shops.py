"""Shops that are kept: made, changed, chosen to predict with, refused in words, and nobody else's."""

import json

import pytest
from django.urls import reverse

from procedures import actions
from procedures.exchange.belongings import shops as belongings
from procedures.management.commands.load_demo import DEMO
from procedures.models import Membership, Shop, UsedShop
from procedures.planning.profile import ShopProfile, default

from .authoring import the_form, words
from .conftest import at_the_browser
from .showing import person, published

pytestmark = pytest.mark.django_db
PLACES = {"forges": 2, "irons": 3, "anvils": 4, "vices": 1}
BARS = [{"section": {"shape": "square", "side": 12}, "lengths": [6000.0, 450.0], "price": 2.5}]


def a_shop(owner="alice", name="North shop", guild=None, bars=(), **figures):
    profile = ShopProfile(name=name, **figures)
    return actions.make_shop(profile=profile, bars=bars, places=PLACES, guild=guild, by=person(owner))


def page(name, shop=None, *more):
    return reverse(f"procedures:{name}", args=[shop.pk, *more] if shop else [])


def filled(client, address, **values):
    form = the_form(client.get(address).content.decode(), "shop-form")
    return client.post(address, form.fields | {key.replace("__", "-"): one for key, one in values.items()})


@pytest.fixture
def hook():
    return published(json.loads((DEMO / "coat_hook.json").read_bytes()))


def test_shop_is_kept_with_all_its_figures_and_bars(alice):
    response = filled(
        alice,
        page("new_shop"),
        name="North shop",
        skill="student",
        hourly_cost="42.5",
        currency="£",
        fuel="coke",
        fuel_cost="3",
        power_energy="160",
        anvils="3",
        bar__section__0="12 sq",
        bar__lengths__0="6 m; 2 x 450",
        bar__price__0="2.40",
    )
    assert response.status_code == 302, words(response)
    shop = Shop.objects.get()
    assert shop.owner == alice.user
    assert shop.stored["hourly_cost"] == 42.5
    assert shop.stored["power_energy"] == 160
    assert shop.bars == [
        {"section": {"shape": "square", "side": 12.0}, "lengths": [6000.0, 450.0, 450.0], "price": 2.4}
    ]
    told = words(alice.get(response.url))
    told = told.replace("\N{NARROW NO-BREAK SPACE}", " ").replace("\xa0", " ")
    for one in ("North shop", "£ 42.50", "a student", "6000 mm, 2 × 450 mm", "£ 2.40 a kg"):
        assert one in told, told[-1500:]
    assert "put in by its smith" in told
    assert UsedShop.objects.get().shop == shop  # the first is planned in


def test_what_is_saved_as_it_was_shown_stays_as_it_was(alice):
    shop = a_shop(bars=BARS, start=1166.6666, power_energy=163.3333)
    for units in ("metric", "inch"):
        alice.post("/units/", {"units": units, "next": "/"})
        assert filled(alice, page("edit_shop", shop)).status_code == 302
        before = dict(shop.stored), list(shop.bars), shop.name
        shop.refresh_from_db()
        assert (shop.stored, shop.bars, shop.name) == before


def test_price_of_a_pound_is_kept_of_a_kilogram(alice):
    alice.post("/units/", {"units": "inch", "next": "/"})
    filled(alice, page("new_shop"), name="North", bar__section__0="1/2 sq", bar__price__0="1")
    assert Shop.objects.get().bars[0]["price"] == pytest.approx(1 / 0.45359237)


@pytest.mark.parametrize(
    ("field", "typed", "said"),
    [
        ("power_energy", "0", "A power hammer of 0 J strikes nothing"),
        ("power_energy", "nan", ""),
        ("hand_rate", "-3", ""),
        ("start", "840", "is not below"),
        ("hourly_cost", "200000", "more than the most"),
        ("name", "   ", "Give the shop a name"),
        ("name", "🔨", "letters in it"),
        ("anvils", "-1", ""),
        ("bar__lengths__0", "0", ""),
        ("bar__price__0", "-4", ""),
        ("bar__section__0", "<script>alert(1)</script>", ""),
        ("hammer", "striker", ""),
    ],
)
def test_what_cannot_be_is_refused_in_words_and_nothing_typed_is_lost(alice, field, typed, said):
    more = {"bar__section__0": "12 sq"} if field.startswith(("bar__l", "bar__p")) else {}
    given = {"name": "North shop", "fuel": "charcoal of beech", **more, field: typed}
    response = filled(alice, page("new_shop"), **given)
    if field == "hammer":
        assert response.status_code == 302  # work planned with a striker is a shop that has one
        return
    assert response.status_code == 422
    html = response.content.decode()
    assert "charcoal of beech" in html
    assert "<script>alert" not in html
    assert said in words(response)
    assert not Shop.objects.exists()


def test_bar_without_a_size_is_asked_for(alice):
    response = filled(alice, page("new_shop"), name="North", bar__lengths__1="6 m")
    assert response.status_code == 422
    assert "Say of which bar" in words(response)


def test_shop_is_its_owners_alone(alice, charlie, client):
    shop = a_shop()
    addresses = ["own_shop", "edit_shop", "delete_shop", "learnt"]
    for name in addresses:
        assert alice.get(page(name, shop)).status_code == 200
        assert charlie.get(page(name, shop)).status_code == 404
        assert charlie.post(page(name, shop)).status_code in (404, 405)
        assert client.get(page(name, shop)).status_code == 302
    assert charlie.post(page("use_shop"), {"shop": shop.pk}).status_code == 404
    assert "North shop" not in words(charlie.get(page("shops")))
    assert Shop.objects.count() == 1


def test_shop_of_a_guild_is_its_members_to_plan_in_and_its_editors_to_change(alice, charlie):
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    Membership.objects.create(guild=guild, user=person("mia"), role="member")
    shop, mia = a_shop(guild=guild), at_the_browser("mia")
    assert mia.get(page("own_shop", shop)).status_code == 200
    assert mia.get(page("edit_shop", shop)).status_code == 404
    assert mia.post(page("delete_shop", shop)).status_code == 404
    assert charlie.get(page("own_shop", shop)).status_code == 404
    assert mia.post(page("use_shop"), {"shop": shop.pk}).status_code == 302
    assert UsedShop.objects.get(user=person("mia")).shop == shop
    assert filled(alice, page("edit_shop", shop), name="South").status_code == 302
    Membership.objects.filter(user=person("mia")).delete()
    assert mia.get(page("own_shop", shop)).status_code == 404
    assert "South" not in words(mia.get(page("shops")))


def test_member_makes_no_shop_for_the_guild(charlie):
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    Membership.objects.create(guild=guild, user=person("charlie"), role="member")
    assert "Whose it is" not in words(charlie.get(page("new_shop")))
    filled(charlie, page("new_shop"), name="Mine", of=str(guild.pk))
    assert Shop.objects.get().owner == charlie.user


def test_predictions_say_which_shop_they_are_for(alice, charlie, client, hook):
    shop = a_shop(power_energy=160.0, hammer="power")
    heats = f"/p/{hook.slug}/heats/"
    assert "Reckoned for your shop, North shop" in words(alice.get(heats))
    assert "power hammer of 160 J" in words(alice.get(heats))
    assert "Reckoned for a usual shop" in words(charlie.get(heats))
    for stranger in (charlie, client):
        asked = stranger.get(heats, {"shop": shop.pk})
        assert asked.status_code == 422
        assert "names a shop that is not yours" in words(asked)
        assert "160 J" not in words(asked)
    assert alice.get(heats, {"shop": "9" * 30}).status_code == 422
    alice.post(page("use_shop"), {"shop": ""})
    assert "Reckoned for a usual shop" in words(alice.get(heats))
    assert "Reckoned for your shop, North shop" in words(alice.get(heats, {"shop": shop.pk}))


def test_figures_of_a_visit_go_before_the_chosen_shop_until_dropped(alice, hook):
    a_shop(power_energy=160.0, hammer="power")
    heats = f"/p/{hook.slug}/heats/"
    form = {"set": "1", "skill": "student", "hammer": "hand", "fire": "gas", "start": "1150", "stop": "850"}
    more = {"hand_rate": "1.7", "sledge_energy": "98", "sledge_rate": "0.8", "power_rate": "4"}
    rest = {"fire_heat": "1250", "slower": "1", "transfer": "2", "contact": "60"}
    assert alice.get(heats, form | more | rest).status_code == 302
    assert "A student" in words(alice.get(heats))
    assert "For this visit" in words(alice.get(page("shops")))
    alice.post(page("use_shop"), {"shop": Shop.objects.get().pk})
    assert "North shop" in words(alice.get(heats))


def test_class_finds_what_there_is_in_the_shop(alice, hook):
    a_shop(power_energy=160.0)
    html = alice.get(f"/p/{hook.slug}/timetable/").content.decode()
    form = html[html.index('name="forges"') - 200 :]
    assert 'name="forges" value="2"' in form
    assert 'name="anvils" value="4"' in form
    assert 'name="irons" value="3"' in form
    assert "checked" in form[form.index('name="power_hammer"') :][:80]


def test_profile_that_reads_no_more_is_a_usual_shop(alice, hook):
    shop = a_shop()
    Shop.objects.update(stored={"power_energy": 0, "strange": 1}, bars=[{"section": {"shape": "blob"}}])
    assert alice.get(page("own_shop", shop)).status_code == 200
    assert alice.get(page("edit_shop", shop)).status_code == 200
    assert alice.get(f"/p/{hook.slug}/heats/").status_code == 200


def test_lists_ask_the_database_as_often_for_many(alice, django_assert_max_num_queries):
    for number in range(8):
        a_shop(name=f"Shop {number}")
    with django_assert_max_num_queries(8):
        assert alice.get(page("shops")).status_code == 200


def test_no_more_shops_than_are_kept(alice):
    for number in range(20):
        a_shop(name=f"Shop {number}")
    response = filled(alice, page("new_shop"), name="One more")
    assert response.status_code == 422
    assert "20 shops already" in words(response)


def test_usual_shop_is_told_to_visitors(client):
    assert default().name == "A usual shop"
    assert "A usual shop" in words(client.get(page("shops")))
    assert client.get(page("new_shop")).status_code == 302


def test_cutting_list_and_stock_begin_with_the_bars_that_lie_there(alice, client, hook):
    stock = hook.latest.document["parts"][0]["stock"]
    odd = {"section": {"shape": "square", "side": 13.7}, "lengths": [], "price": None}
    held = {"section": stock["section"], "lengths": [450.0, 450.0, 720.0], "price": 2.75}
    a_shop(bars=[held, odd])
    cutting = f"/p/{hook.slug}/cutting-list/"
    html = alice.get(cutting).content.decode()
    assert 'value="2 x 450; 720"' in html
    assert 'value="2.75"' in html
    assert "those of North shop" in words(alice.get(cutting))
    assert 'value="450"' in alice.get(cutting, {"rack-0": "450"}).content.decode()  # an address goes first
    assert "2 x 450; 720" not in client.get(cutting).content.decode()
    alice.post("/units/", {"units": "inch", "next": "/"})
    assert "2 x 17.72 in; 28.35 in" in alice.get(cutting).content.decode()
    alice.post("/units/", {"units": "metric", "next": "/"})
    asked = {"want": "mass:", "size": "0.3 kg", "find": "length"}
    answer = words(alice.get(f"/p/{hook.slug}/stock/", asked))
    assert "in North shop" in answer
    assert "13.7" in answer
    assert "in North shop" not in words(client.get(f"/p/{hook.slug}/stock/", asked))


def test_account_takes_its_shops_away(alice, charlie):
    a_shop(bars=BARS, hourly_cost=36.0)
    (file,) = belongings.gather(alice.user)
    kept = json.loads(file.read())
    assert kept["shops"][0]["profile"]["hourly_cost"] == 36.0
    assert kept["shops"][0]["bars"] == BARS
    assert kept["planned_in"] == "North shop"
    assert list(belongings.told(alice.user)) == ["1 shop with its figures and bars"]
    assert not list(belongings.gather(charlie.user))


def test_two_who_change_one_shop_lose_nothing(alice):
    shop = a_shop()
    address = page("edit_shop", shop)
    first = the_form(alice.get(address).content.decode(), "shop-form").fields
    second = dict(first)
    assert alice.post(address, first | {"fuel": "coke of the valley"}).status_code == 302
    again = alice.post(address, second | {"fuel": "beech charcoal"})
    assert again.status_code == 409
    assert "Somebody else changed this shop" in words(again)
    shown = the_form(again.content.decode(), "shop-form").fields
    assert shown["fuel"] == "beech charcoal"
    shop.refresh_from_db()
    assert shop.stored["fuel"] == "coke of the valley"
    assert alice.post(address, shown).status_code == 302
    shop.refresh_from_db()
    assert shop.stored["fuel"] == "beech charcoal"
