"""Collections: made, ordered, taken away; and what each reader sees of what is in them."""

from __future__ import annotations

import io
import zipfile

import pytest
from django.test import Client
from django.urls import reverse

from procedures import actions
from procedures.models import Collection, CollectionItem, Membership, Procedure

from .showing import a_draft, a_hook, person, published, retitled

pytestmark = pytest.mark.django_db
GONE = "withdrawn or deleted, or is no longer open to you"


def a_collection(*procedures: Procedure, **more) -> Collection:
    made = actions.make_collection(title="Hooks for a weekend", by=person(), **more)
    for one in procedures:
        actions.collect(collection=made, procedure=one, by=person())
    return made


def titles(collection: Collection) -> list[str]:
    return [one.procedure.title for one in collection.items.select_related("procedure")]


def page_of(client: Client, collection: Collection) -> str:
    response = client.get(collection.get_absolute_url())
    assert response.status_code == 200
    return response.content.decode()


def three(owner: str = "alice") -> list[Procedure]:
    return [published(a_hook(title=f"Hook {one}"), owner) for one in "ABC"]


# -- putting together --------------------------------------------------------------------------------


def test_two_presses_from_the_page_of_a_procedure(alice):
    """The first press opens the list of one's collections, the second puts it there."""
    one, held = published(), a_collection()
    collect = reverse("procedures:collect", args=[one.slug])
    assert collect in alice.get(one.get_absolute_url()).content.decode()
    assert f'name="collection" value="{held.slug}"' in alice.get(collect).content.decode()
    response = alice.post(collect, {"collection": held.slug})
    assert response.url == held.get_absolute_url()
    assert titles(held) == ["A hook"]
    assert "A hook" in page_of(alice, held)


def test_new_collection_starts_with_what_was_collected(alice):
    one = published()
    alice.post(reverse("procedures:collect", args=[one.slug]), {"title": "  First  weekend "})
    made = Collection.objects.get()
    assert (made.title, made.status, titles(made)) == ("First weekend", "private", ["A hook"])


def test_twice_in_one_collection_is_refused_in_words(alice):
    one = published()
    held = a_collection(one)
    response = alice.post(reverse("procedures:collect", args=[one.slug]), {"collection": held.slug})
    assert response.status_code == 422
    assert "already" in response.content.decode()
    assert held.items.count() == 1


def test_nothing_goes_into_another_persons_collection(charlie):
    one, held = published(), a_collection(status="public")
    response = charlie.post(reverse("procedures:collect", args=[one.slug]), {"collection": held.slug})
    assert response.status_code == 404
    assert held.items.count() == 0


def test_what_one_may_not_read_cannot_be_collected(charlie):
    draft = a_draft()
    held = actions.make_collection(title="Mine", by=charlie.user)
    response = charlie.post(reverse("procedures:collect", args=[draft.slug]), {"collection": held.slug})
    assert response.status_code == 404
    assert held.items.count() == 0


def test_frozen_one_stays_at_its_revision(alice, client):
    one = published()
    held = a_collection(status="public")
    alice.post(reverse("procedures:collect", args=[one.slug]), {"collection": held.slug, "revision": "1"})
    retitled(one, "A better hook")
    actions.publish(procedure=one, by=person())
    page = page_of(client, held)
    assert "A better hook" not in page
    assert "frozen at revision 1" in page
    assert f"/p/{one.slug}/r/1/" in page
    item = held.items.get()
    address = reverse("procedures:collection_item", args=[held.slug, item.pk])
    alice.post(address, {"note": "Bring *tongs*.", "revision": ""})
    page = page_of(client, held)
    assert "A better hook" in page
    assert "Bring *tongs*." in page


def test_revision_of_another_procedure_is_no_choice(alice):
    one, other = published(), published(a_hook(title="Another"))
    held = a_collection(one)
    address = reverse("procedures:collection_item", args=[held.slug, held.items.get().pk])
    response = alice.post(address, {"note": "kept as typed", "revision": other.latest.pk})
    assert response.status_code == 422
    assert "kept as typed" in response.content.decode()
    assert held.items.get().revision is None


@pytest.mark.parametrize(
    ("at", "way", "order"),
    [(2, "up", "ACB"), (0, "down", "BAC"), (0, "up", "ABC"), (2, "down", "ABC")],
)
def test_order_by_buttons(alice, at, way, order):
    held = a_collection(*three())
    item = held.items.all()[at]
    response = alice.post(reverse("procedures:move_item", args=[held.slug, item.pk]), {"way": way})
    assert response.url.endswith(f"#item-{item.pk}")
    assert titles(held) == [f"Hook {one}" for one in order]


def test_order_is_mended_in_place_and_said(alice):
    held = a_collection(*three())
    item = held.items.all()[0]
    address = reverse("procedures:move_item", args=[held.slug, item.pk])
    page = alice.post(address, {"way": "down"}, headers={"HX-Request": "true"}).content.decode()
    assert "<html" not in page
    assert "Hook A is number 2 now." in page
    assert page.index("Hook B") < page.index("Hook C")


@pytest.mark.parametrize("way", ["", "sideways", "\0"])
def test_there_are_two_ways_to_move(alice, way):
    held = a_collection(*three())
    address = reverse("procedures:move_item", args=[held.slug, held.items.first().pk])
    assert alice.post(address, {"way": way}).status_code == 404
    assert titles(held) == ["Hook A", "Hook B", "Hook C"]


def test_item_of_another_collection_is_not_reached_through_ones_own(alice, charlie):
    held = a_collection(*three())
    own = actions.make_collection(title="Mine", by=charlie.user)
    for name in ("collection_item", "move_item", "drop_item"):
        address = reverse(f"procedures:{name}", args=[own.slug, held.items.first().pk])
        assert charlie.post(address, {"way": "down"}).status_code == 404
    assert titles(held) == ["Hook A", "Hook B", "Hook C"]


def test_taken_out_and_let_go(alice):
    held = a_collection(*three())
    alice.post(reverse("procedures:drop_item", args=[held.slug, held.items.first().pk]))
    assert titles(held) == ["Hook B", "Hook C"]
    alice.post(reverse("procedures:delete_collection", args=[held.slug]))
    assert not Collection.objects.exists()
    assert Procedure.objects.count() == 3


@pytest.mark.parametrize("title", ["", "   ", "!!!", "x" * 121])
def test_title_that_says_nothing_is_refused_with_what_was_typed(alice, title):
    response = alice.post(
        reverse("procedures:make_collection"), {"title": title, "about": "kept as typed", "status": "public"}
    )
    assert response.status_code == 422
    assert "kept as typed" in response.content.decode()
    assert not Collection.objects.exists()


def test_status_that_does_not_exist_is_refused(alice):
    response = alice.post(
        reverse("procedures:make_collection"), {"title": "Hooks", "status": "everybody and his dog"}
    )
    assert response.status_code == 422


def test_script_in_every_field_is_text(alice, client):
    script = "<script>alert(1)</script>"
    alice.post(
        reverse("procedures:make_collection"), {"title": f"A {script}", "about": script, "status": "public"}
    )
    held = Collection.objects.get()
    actions.collect(collection=held, procedure=published(), by=person())
    actions.note_item(item=held.items.get(), note=script, revision=None, by=person())
    page = page_of(client, held)
    assert script not in page
    assert page.count("&lt;script&gt;alert(1)") >= 3


# -- who sees what of it -----------------------------------------------------------------------------


@pytest.mark.parametrize(("status", "sees"), [("private", False), ("unlisted", True), ("public", True)])
def test_who_sees_a_collection(status, sees, client, charlie, alice):
    held = a_collection(published(), status=status)
    for browser in (client, charlie):
        for name in ("collection", "collection_feed", "collection_package"):
            address = reverse(f"procedures:{name}", args=[held.slug])
            answer = browser.get(address)
            assert answer.status_code == (200 if sees else 404), name
            b"".join(answer.streaming_content if answer.streaming else [])
        listed = browser.get(reverse("procedures:collections")).content.decode()
        assert (held.title in listed) == (status == "public")
        assert (held.title in browser.get("/smiths/alice/").content.decode()) == (status == "public")
    assert held.title in alice.get(reverse("procedures:collections")).content.decode()
    assert page_of(alice, held)


@pytest.mark.parametrize(
    "name", ["edit_collection", "delete_collection", "collection_item", "move_item", "drop_item"]
)
def test_only_who_keeps_it_changes_it(name, client, charlie):
    held = a_collection(published(), status="public")
    args = [held.slug] + ([held.items.get().pk] if "item" in name else [])
    address = reverse(f"procedures:{name}", args=args)
    assert charlie.post(address, {"way": "up", "title": "Mine now", "status": "public"}).status_code == 404
    assert client.post(address).status_code == 302
    held.refresh_from_db()
    assert (held.title, held.items.count()) == ("Hooks for a weekend", 1)


def test_hidden_collection_is_seen_by_its_keeper_alone(client, alice):
    held = a_collection(published(), status="public")
    Collection.objects.update(hidden="2027-03-09T12:00Z", hidden_reason="Not safe.")
    assert client.get(held.get_absolute_url()).status_code == 404
    assert held.title not in client.get(reverse("procedures:collections")).content.decode()
    assert "Not safe." in page_of(alice, held)


@pytest.mark.parametrize("became", ["draft", "withdrawn", "hidden", "guild", "deleted"])
def test_what_is_no_longer_open_is_not_shown(client, became):
    """Its place says that it is not here, and nothing of what it was: no title, no address, no author."""
    one = published(a_hook(title="Zwiesel"), owner="bob")
    held = a_collection(one, published(), status="public")
    actions.note_item(item=held.items.first(), note="About Zwiesel", revision=None, by=person())
    if became == "deleted":
        actions.delete_procedure(procedure=one, by=person("bob"))
    elif became == "guild":
        guild = actions.found_guild(name="The Anvil", by=person("bob"))
        Procedure.objects.filter(pk=one.pk).update(status="guild", guild=guild)
    elif became == "hidden":
        Procedure.objects.filter(pk=one.pk).update(hidden="2027-03-09T12:00Z")
    else:
        actions.unpublish(
            procedure=one, reason="It tears." if became == "withdrawn" else "", by=person("bob")
        )
    page = page_of(client, held)
    assert GONE in page
    assert "Zwiesel" not in page
    assert one.slug not in page
    assert "bob" not in page
    assert "A hook" in page
    package = b"".join(
        client.get(reverse("procedures:collection_package", args=[held.slug])).streaming_content
    )
    with zipfile.ZipFile(io.BytesIO(package)) as opened:
        assert not any("zwiesel" in one.lower() for one in opened.namelist())


def test_unlisted_procedure_is_not_given_away_by_a_public_collection(client, alice):
    one = a_draft(a_hook(title="Zwiesel"))
    actions.publish(procedure=one, status="unlisted", by=person())
    held = a_collection(one, status="unlisted")
    assert "Zwiesel" in page_of(client, held)
    Collection.objects.update(status="public")
    assert "Zwiesel" not in page_of(client, held)
    assert one.slug not in page_of(client, held)
    assert "is unlisted, and not shown" in page_of(alice, held)


def test_withdrawn_revision_is_not_shown_where_it_is_frozen(client):
    one = published()
    held = a_collection(status="public")
    actions.collect(collection=held, procedure=one, revision=one.latest, by=person())
    retitled(one, "A better hook")
    actions.publish(procedure=one, by=person())
    actions.withdraw_revision(procedure=one, revision=one.revisions.last(), reason="It tears.", by=person())
    page = page_of(client, held)
    assert "The revision it is frozen at was withdrawn." in page
    assert "A hook" not in page


def test_collection_of_a_guild_is_its_members_and_editors_change_it(client, charlie, alice):
    guild = actions.found_guild(name="The Anvil", by=person("kate"))
    Membership.objects.create(guild=guild, user=charlie.user, role="member")
    Membership.objects.create(guild=guild, user=alice.user, role="editor")
    alice.post(
        reverse("procedures:make_collection"), {"title": "Ours", "status": "private", "guild": guild.slug}
    )
    held = Collection.objects.get()
    assert (held.guild, held.owner) == (guild, None)
    assert client.get(held.get_absolute_url()).status_code == 404
    assert "Delete the collection" not in page_of(charlie, held)
    assert "Delete the collection" in page_of(alice, held)
    assert "Ours" in charlie.get(guild.get_absolute_url()).content.decode()
    assert "Ours" not in client.get(guild.get_absolute_url()).content.decode()
    Membership.objects.filter(user=alice.user).delete()
    assert alice.get(held.get_absolute_url()).status_code == 404


def test_member_of_a_guild_makes_no_collection_for_it(charlie):
    guild = actions.found_guild(name="The Anvil", by=person("kate"))
    Membership.objects.create(guild=guild, user=charlie.user, role="member")
    charlie.post(
        reverse("procedures:make_collection"), {"title": "Ours", "status": "private", "guild": guild.slug}
    )
    assert not Collection.objects.filter(guild=guild).exists()


# -- taking it away ----------------------------------------------------------------------------------


def test_handout_is_offered_with_what_one_may_read_in_its_order(client):
    held = a_collection(*three(), status="public")
    first = held.items.first()
    actions.move_item(item=first, by_places=1, by=person())
    actions.unpublish(procedure=Procedure.objects.get(title="Hook C"), by=person())
    slugs = [Procedure.objects.get(title=f"Hook {one}").slug for one in "BA"]
    asked = "&amp;".join(f"p={one}" for one in slugs)
    assert f'href="/handout/?{asked}"' in page_of(client, held)
    page = client.get("/handout/", {"p": slugs}).content.decode()
    assert page.index("Hook B") < page.index("Hook A")


def test_zip_holds_each_at_the_revision_shown(client):
    one = published()
    held = a_collection(status="public")
    actions.collect(collection=held, procedure=one, revision=one.latest, by=person())
    retitled(one, "A better hook")
    actions.publish(procedure=one, by=person())
    response = client.get(reverse("procedures:collection_package", args=[held.slug]))
    with zipfile.ZipFile(io.BytesIO(b"".join(response.streaming_content))) as opened:
        found = [opened.read(one).decode() for one in opened.namelist() if one.endswith(".json")]
    assert any('"A hook"' in text for text in found)
    assert not any("A better hook" in text for text in found)


def test_page_asks_the_same_whatever_is_in_it(client, django_assert_num_queries):
    few, many = a_collection(*three(), status="public"), a_collection(*three(), *three(), status="public")
    client.get(few.get_absolute_url())
    for held in (few, many):
        with django_assert_num_queries(3):
            client.get(held.get_absolute_url())
    address = reverse("procedures:collections")
    with django_assert_num_queries(2):
        client.get(address)


# -- a person's page ---------------------------------------------------------------------------------


def test_persons_page_shows_what_is_public_and_nothing_else(client):
    published(a_hook(title="A public hook"))
    a_draft(a_hook(title="A secret draft"))
    hidden = a_draft(a_hook(title="A secret address"))
    actions.publish(procedure=hidden, status="unlisted", by=person())
    kept = actions.found_guild(name="The open anvil", by=person())
    closed = actions.found_guild(name="The closed anvil", by=person())
    closed.listed = False
    closed.save()
    joined = actions.found_guild(name="The far anvil", by=person("kate"))
    Membership.objects.create(guild=joined, user=person(), role="member")
    page = client.get(reverse("procedures:smith", args=["alice"])).content.decode()
    assert "A public hook" in page
    assert kept.name in page
    for kept_back in ("secret", "The closed anvil", "The far anvil", "alice@example.org"):
        assert kept_back not in page


@pytest.mark.parametrize("name", ["nobody", "charlie", "al ice", "<script>"])
def test_who_showed_nothing_has_no_page(client, charlie, name):
    assert client.get(reverse("procedures:smith", args=[name])).status_code == 404
    assert client.get(reverse("procedures:smith_feed", args=[name])).status_code == 404


def test_own_page_is_there_before_anything_is_published(charlie):
    page = charlie.get(reverse("procedures:smith", args=["charlie"])).content.decode()
    assert "This is what others see of you" in page


def test_items_of_what_is_deleted_are_counted_still(alice):
    one = published()
    held = a_collection(one)
    actions.delete_procedure(procedure=one, by=person())
    assert CollectionItem.objects.get().procedure is None
    assert GONE in page_of(alice, held)
    alice.post(reverse("procedures:drop_item", args=[held.slug, held.items.get().pk]))
    assert held.items.count() == 0
