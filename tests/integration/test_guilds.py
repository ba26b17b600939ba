"""Guilds: joined by invitation or request, a shelf that several edit, never without a keeper."""

import re
from datetime import timedelta

import pytest
from django.core import mail
from django.urls import reverse
from django.utils import timezone

from procedures import actions
from procedures.actions import Refused
from procedures.models import Guild, Invitation, JoinRequest, Membership, Procedure, ToolName

from .authoring import HTMX, bench_of, stored, the_form, typed, words
from .conftest import at_the_browser
from .showing import a_draft, a_hook, person, published

pytestmark = pytest.mark.django_db


@pytest.fixture
def bob(db):
    return at_the_browser("bob")


@pytest.fixture
def anvil(db):
    """A guild that alice keeps and bob edits for."""
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    let_in(guild, "bob", "editor")
    return guild


def let_in(guild, name, role="member"):
    return Membership.objects.create(guild=guild, user=person(name), role=role)


def role_of(guild, name):
    found = guild.memberships.filter(user__username=name).first()
    return found.role if found else None


def address(name, guild, *more):
    return reverse(f"procedures:{name}", args=[guild.slug, *more])


def on_shelf(guild, owner="alice"):
    hook = a_draft(owner=owner)
    actions.put_on_shelf(procedure=hook, guild=guild, by=hook.owner)
    hook.refresh_from_db()
    return hook


def link_in(guild, role="member"):
    return actions.invite(guild=guild, role=role, link_of=lambda token: f"/invitations/{token}/", by=person())


# -- founded and described ---------------------------------------------------------------------------


def test_who_founds_a_guild_keeps_it(charlie):
    answer = charlie.post(reverse("procedures:found_guild"), {"name": "  Valley   smiths "})
    guild = Guild.objects.get()
    assert answer.url == "/guilds/valley-smiths/"
    assert guild.name == "Valley smiths"
    assert role_of(guild, "charlie") == "keeper"
    assert "Valley smiths" in words(charlie.get("/guilds/"))


@pytest.mark.parametrize("name", ["", "   ", "!!!", "x" * 81])
def test_a_guild_needs_a_name_that_can_be_read(charlie, name):
    answer = charlie.post(reverse("procedures:found_guild"), {"name": name})
    assert answer.status_code == 422
    assert 'aria-invalid="true"' in answer.content.decode()
    assert not Guild.objects.exists()


def test_two_guilds_of_one_name_have_addresses_of_their_own(anvil):
    other = actions.found_guild(name="The Anvil", by=person("charlie"))
    foreign = actions.found_guild(name="鍛冶", by=person("charlie"))
    assert len({anvil.slug, other.slug, foreign.slug}) == 3


def test_profile_is_kept_and_its_words_are_safe(alice, client, anvil):
    given = {
        "name": "The Anvil",
        "about": "We *meet* on <script>alert(1)</script> Tuesdays",
        "listed": "on",
        "place": "Lower Bridge",
        "shop": "Two hearths",
        "units": "inch",
        "fire": "average",
        "tongs": "wolf jaw\n\n wolf jaw \nbox jaw",
    }
    assert alice.post(address("guild_profile", anvil), given).status_code == 302
    anvil.refresh_from_db()
    assert anvil.tongs == ["wolf jaw", "box jaw"]
    page = client.get(anvil.get_absolute_url()).content.decode()
    assert "<em>meet</em>" in page
    assert "<script>alert" not in page
    for told in ("Lower Bridge", "Two hearths", "wolf jaw; box jaw"):
        assert told in page


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"name": ""}, "Give the guild a name"),
        ({"units": "cubits"}, "Select a valid choice"),
        ({"fire": "dragon"}, "Select a valid choice"),
        ({"tongs": "x" * 81}, "at most 80"),
        ({"tongs": "\n".join(str(one) for one in range(61))}, "at most 60"),
    ],
)
def test_profile_that_cannot_be_is_told_beside_its_field(alice, anvil, wrong, said):
    given = {"name": "Kept as typed", "fire": "average", **wrong}
    answer = alice.post(address("guild_profile", anvil), given)
    assert answer.status_code == 422
    assert said in words(answer)
    anvil.refresh_from_db()
    assert anvil.name == "The Anvil"


def test_guild_names_a_tool_and_its_pages_say_it_beside_the_sites(alice, client, anvil):
    hook = on_shelf(anvil)
    actions.publish(procedure=hook, by=hook.owner)
    address_ = address("guild_tools", anvil)
    alice.post(address_, {"thing": "operation:draw_out", "name": "Fullering out"})
    assert alice.post(address_, {"thing": "a banana", "name": "x"}).status_code == 422
    page = words(client.get(hook.get_absolute_url()))
    assert "In the words of The Anvil" in page
    assert "Draw out Fullering out" in page
    assert "Fullering out" in words(client.get(anvil.get_absolute_url()))
    alice.post(address_, {"thing": "operation:draw_out", "name": " "})
    assert not ToolName.objects.exists()
    assert "In the words of" not in words(client.get(hook.get_absolute_url()))


def test_words_of_a_hidden_guild_are_its_members_own(alice, client, anvil):
    hook = on_shelf(anvil)
    actions.publish(procedure=hook, by=hook.owner)
    actions.name_tool(guild=anvil, thing="operation:draw_out", name="Fullering out", by=hook.owner)
    actions.edit_guild(guild=anvil, profile={"listed": False}, by=hook.owner)
    assert "The Anvil" not in words(client.get(hook.get_absolute_url()))
    assert "Fullering out" in words(alice.get(hook.get_absolute_url()))


# -- who sees it -------------------------------------------------------------------------------------


def test_hidden_guild_is_not_there_for_others(alice, bob, charlie, client, anvil):
    actions.edit_guild(guild=anvil, profile={"listed": False}, by=person())
    assert charlie.get(anvil.get_absolute_url()).status_code == 404
    assert charlie.post(address("ask_to_join", anvil)).status_code == 404
    assert client.get(anvil.get_absolute_url()).status_code == 302
    assert bob.get(anvil.get_absolute_url()).status_code == 200
    assert "The Anvil" not in words(charlie.get("/guilds/"))
    assert "The Anvil" in words(bob.get("/guilds/"))


def test_stranger_sees_keepers_and_no_other_names(client, bob, anvil):
    page = words(client.get(anvil.get_absolute_url()))
    assert "alice" in page
    assert "bob" not in page
    assert "bob" in words(bob.get(anvil.get_absolute_url()))


def test_what_keepers_do_members_and_strangers_do_not(bob, charlie, client, anvil):
    alices = anvil.memberships.get(user__username="alice")
    posts = [
        address("guild_profile", anvil),
        address("guild_tools", anvil),
        address("invite", anvil),
        address("delete_guild", anvil),
        address("change_member", anvil, alices.pk),
        address("answer_request", anvil, 1),
        address("take_invitation_back", anvil, 1),
    ]
    for one in posts:
        assert [each.post(one, {"remove": "1", "role": "member"}).status_code for each in (bob, charlie)] == [
            404,
            404,
        ]
        assert client.post(one).status_code == 302
    assert role_of(anvil, "alice") == "keeper"
    assert charlie.get(address("guild_members", anvil)).status_code == 404
    assert bob.get(address("guild_members", anvil)).status_code == 200


# -- coming in ---------------------------------------------------------------------------------------


def test_invitation_lets_one_person_in_once(alice, charlie, anvil):
    alice.post(address("invite", anvil), {"role": "editor"})
    page = alice.get(address("guild_members", anvil)).content.decode()
    link = re.search(r"http://testserver(/invitations/[^\"<]+)", page).group(1)
    assert link not in alice.get(address("guild_members", anvil)).content.decode()  # never shown again
    assert "as an editor" in words(charlie.get(link))
    assert role_of(anvil, "charlie") is None
    assert charlie.post(link).url == anvil.get_absolute_url()
    assert role_of(anvil, "charlie") == "editor"
    dora = at_the_browser("dora")
    for answer in (dora.get(link), dora.post(link)):
        assert answer.status_code == 410
        assert "was used" in words(answer)
    assert role_of(anvil, "dora") is None


def test_who_is_in_already_uses_up_no_invitation(bob, anvil):
    link = link_in(anvil)
    assert bob.post(link).url == anvil.get_absolute_url()
    assert Invitation.objects.get().used is None


def test_invitation_that_is_over_or_taken_back_says_so(alice, charlie, anvil):
    over, back = link_in(anvil), link_in(anvil)
    latest, oldest = anvil.invitations.all()
    Invitation.objects.filter(pk=oldest.pk).update(expires=timezone.now() - timedelta(minutes=1))
    alice.post(address("take_invitation_back", anvil, latest.pk))
    assert "are over" in words(charlie.post(over))
    assert "taken back" in words(charlie.post(back))
    assert charlie.get("/invitations/guessed/").status_code == 404
    assert role_of(anvil, "charlie") is None


def test_who_is_not_signed_in_comes_back_to_the_invitation(client, anvil):
    link = link_in(anvil)
    assert client.get(link).url == f"/accounts/login/?next={link}"
    assert Invitation.objects.get().used is None


def test_only_the_digest_of_a_link_is_kept(anvil):
    link = link_in(anvil)
    assert Invitation.objects.get().digest not in link
    assert len(link.split("/")[2]) >= 32


def test_invitation_by_mail_and_a_wrong_address(alice, anvil, django_capture_on_commit_callbacks):
    wrong = alice.post(address("invite", anvil), {"role": "member", "email": "dora@\nexample.org"})
    assert wrong.status_code == 422
    assert alice.post(address("invite", anvil), {"role": "keeper"}).status_code == 422
    with django_capture_on_commit_callbacks(execute=True):
        alice.post(address("invite", anvil), {"role": "member", "email": "dora@example.org"})
    (sent,) = mail.outbox
    assert sent.to == ["dora@example.org"]
    link = re.search(r"http://testserver(/invitations/\S+)", sent.body).group(1)
    assert at_the_browser("dora").post(link).status_code == 302
    assert role_of(anvil, "dora") == "member"


def test_guilds_units_are_read_in_by_who_chose_none(charlie, anvil):
    actions.edit_guild(guild=anvil, profile={"units": "inch"}, by=person())
    assert charlie.post(link_in(anvil)).cookies["units"].value == "inch"
    dora = at_the_browser("dora")
    dora.cookies["units"] = "metric"
    assert "units" not in dora.post(link_in(anvil)).cookies


def test_request_is_answered_by_a_keeper(alice, charlie, anvil):
    for told in ("I am Charlie", "I am Charlie, from the bridge"):
        assert charlie.post(address("ask_to_join", anvil), {"words": told}).status_code == 302
    asked = JoinRequest.objects.get()  # asked twice, it is one
    assert asked.words == "I am Charlie, from the bridge"
    assert "1 asks to come in" in words(alice.get(anvil.get_absolute_url()))
    assert role_of(anvil, "charlie") is None
    answer = address("answer_request", anvil, asked.pk)
    alice.post(answer, {"let_in": "1"})
    assert role_of(anvil, "charlie") == "member"
    assert "answered already" in words(alice.post(answer, {"let_in": "1"}, follow=True))


def test_request_that_is_declined_lets_nobody_in(alice, charlie, anvil):
    charlie.post(address("ask_to_join", anvil), {"words": ""})
    alice.post(address("answer_request", anvil, JoinRequest.objects.get().pk), {"not": "1"})
    assert role_of(anvil, "charlie") is None
    charlie.post(address("ask_to_join", anvil), {"words": "Again"})
    assert JoinRequest.objects.filter(answered=None).count() == 1


def test_request_to_another_guild_is_not_answered_here(alice, charlie, anvil):
    other = actions.found_guild(name="Other", by=person("dora"))
    charlie.post(address("ask_to_join", other), {"words": ""})
    answer = alice.post(address("answer_request", anvil, JoinRequest.objects.get().pk), {"let_in": "1"})
    assert answer.status_code == 404
    assert role_of(other, "charlie") is None


# -- never without a keeper --------------------------------------------------------------------------


def test_last_keeper_stays_one(alice, anvil):
    own = anvil.memberships.get(user__username="alice")
    change = address("change_member", anvil, own.pk)
    assert "never without a keeper" in words(alice.post(change, {"role": "member"}, follow=True))
    assert "leave the guild instead" in words(alice.post(change, {"remove": "1"}, follow=True))
    assert role_of(anvil, "alice") == "keeper"


def test_last_keeper_hands_over_before_leaving(alice, anvil):
    let_in(anvil, "charlie")
    leave = address("leave_guild", anvil)
    assert "say who keeps it after you" in words(alice.post(leave))
    other = actions.found_guild(name="Other", by=person("dora")).memberships.get()
    assert alice.post(leave, {"successor": other.pk}).status_code == 422
    charlies = anvil.memberships.get(user__username="charlie")
    assert alice.post(leave, {"successor": charlies.pk}).status_code == 302
    assert (role_of(anvil, "alice"), role_of(anvil, "charlie")) == (None, "keeper")


def test_with_the_last_of_all_the_guild_goes(alice, bob, anvil):
    bob.post(address("leave_guild", anvil))
    hook = on_shelf(anvil)
    alice.post(address("leave_guild", anvil))
    hook.refresh_from_db()
    assert not Guild.objects.exists()
    assert (hook.owner.username, hook.guild, hook.on_shelf) == ("alice", None, False)


def test_who_leaves_hands_the_shelf_over_and_stays_its_author(alice, bob, client, anvil):
    hook = on_shelf(anvil, owner="bob")
    apart = a_draft(a_hook(title="My own"), owner="bob")
    actions.publish(procedure=hook, by=hook.owner)
    assert "1 procedure of yours stands on its shelf" in words(bob.get(address("leave_guild", anvil)))
    bob.post(address("leave_guild", anvil))
    hook.refresh_from_db()
    apart.refresh_from_db()
    assert (hook.owner.username, hook.writer.username, apart.owner.username) == ("alice", "bob", "bob")
    assert "bob: first written" in hook.document["credits"]
    assert "by bob" in words(client.get(hook.get_absolute_url()))
    assert bob.get(reverse("procedures:edit", args=[hook.slug])).status_code == 404
    assert alice.get(reverse("procedures:edit", args=[hook.slug])).status_code == 200


def test_keeper_sends_somebody_away_and_takes_over(alice, bob, anvil):
    hook = on_shelf(anvil, owner="bob")
    change = address("change_member", anvil, anvil.memberships.get(user__username="bob").pk)
    alice.post(change, {"remove": "1"})
    hook.refresh_from_db()
    assert role_of(anvil, "bob") is None
    assert (hook.owner.username, hook.author) == ("alice", "bob")
    assert alice.post(change, {"remove": "1"}).status_code == 404


def test_account_that_goes_leaves_its_guilds_kept(anvil):
    hook = on_shelf(anvil)
    alone = actions.found_guild(name="Alone", by=person())
    actions.leave_all_guilds(credited=True, by=person())
    hook.refresh_from_db()
    assert role_of(anvil, "bob") == "keeper"
    assert hook.owner.username == "bob"
    assert not Guild.objects.filter(pk=alone.pk).exists()


# -- the shelf ---------------------------------------------------------------------------------------


def test_members_put_their_own_on_the_shelf_and_no_other(bob, charlie, anvil):
    own, others = a_draft(owner="bob"), a_draft(a_hook(title="Not his"), owner="alice")
    shelf = address("put_on_shelf", anvil)
    assert bob.post(shelf, {"procedure": others.slug}).status_code == 422
    assert bob.post(shelf, {"procedure": ""}).status_code == 422
    assert charlie.post(shelf, {"procedure": own.slug}).status_code == 404
    assert bob.post(shelf, {"procedure": own.slug}).status_code == 302
    own.refresh_from_db()
    assert (own.guild, own.on_shelf) == (anvil, True)
    with pytest.raises(Refused, match="on a shelf already"):
        actions.put_on_shelf(procedure=own, guild=anvil, by=own.owner)


def test_new_procedure_begins_on_the_shelf_by_the_guilds_fire(bob, anvil):
    actions.edit_guild(guild=anvil, profile={"fire": "average"}, by=person())
    begin = reverse("procedures:new") + f"?guild={anvil.slug}"
    assert "It goes on the shelf of The Anvil" in words(bob.get(begin))
    given = {"title": "A bolt", "section": "16 ø", "length": "200", "part": "Bolt", "material": "mild_steel"}
    assert bob.post(begin, given | {"section": "ø16"}).status_code == 302
    bolt = Procedure.objects.get()
    assert (bolt.guild, bolt.on_shelf, bolt.document["scale"]["fire"]) == (anvil, True, "average")


def test_guild_of_others_takes_nothing_new(charlie, anvil):
    given = {"title": "A bolt", "section": "ø16", "length": "200", "part": "Bolt", "material": "mild_steel"}
    charlie.post(reverse("procedures:new") + f"?guild={anvil.slug}", given)
    assert Procedure.objects.get().guild is None


def test_two_editors_do_not_overwrite_each_other(alice, bob, anvil):
    hook = on_shelf(anvil)
    opened_by_bob = the_form(bench_of(bob, hook, "s2"), "step-form")
    typed(alice, hook, "s2", param__target="10 sq")
    answer = bob.post(opened_by_bob.action, opened_by_bob.fields | {"param-target": "9 sq"}, headers=HTMX)
    assert answer.status_code == 409
    assert "alice" in words(answer)
    assert stored(hook, "s2")["params"]["target"]["side"] == 10
    typed(bob, hook, "s2", param__target="8 sq")
    assert stored(hook, "s2")["params"]["target"]["side"] == 8
    hook.refresh_from_db()
    assert hook.edits.get(number=hook.head).by.username == "bob"


def test_editor_works_at_the_draft_and_no_more(bob, anvil):
    hook = on_shelf(anvil)
    bench = words(bob.get(reverse("procedures:edit", args=[hook.slug]), follow=True))
    assert "Publish" not in bench
    for name in ("publish", "unpublish", "settings", "delete", "take_off_shelf"):
        assert bob.get(reverse(f"procedures:{name}", args=[hook.slug])).status_code == 404
        assert bob.post(reverse(f"procedures:{name}", args=[hook.slug])).status_code == 404


def test_keeper_publishes_what_is_on_the_shelf_and_takes_it_off(alice, client, anvil):
    hook = on_shelf(anvil, owner="bob")
    alice.post(reverse("procedures:publish", args=[hook.slug]), {"readers": f"guild-{anvil.pk}"})
    hook.refresh_from_db()
    assert hook.status == "guild"
    assert client.get(hook.get_absolute_url()).status_code == 404
    alice.post(reverse("procedures:take_off_shelf", args=[hook.slug]))
    hook.refresh_from_db()
    assert (hook.on_shelf, hook.guild) == (False, anvil)  # the guild reads it still
    assert alice.get(reverse("procedures:edit", args=[hook.slug])).status_code == 404


def test_shelf_is_listed_in_constant_queries(bob, anvil, django_assert_max_num_queries):
    for number in range(6):
        on = a_draft(a_hook(title=f"Hook {number}"))
        actions.put_on_shelf(procedure=on, guild=anvil, by=on.owner)
    with django_assert_max_num_queries(13):
        assert "Hook 5" in words(bob.get(anvil.get_absolute_url()))


# -- published for whom ------------------------------------------------------------------------------


def test_owner_chooses_who_reads(alice, client, anvil):
    hook = a_draft()
    page = reverse("procedures:publish", args=[hook.slug])
    assert "The guild The Anvil alone" in words(alice.get(page))
    alice.post(page, {"readers": "unlisted"})
    hook.refresh_from_db()
    answer = client.get(hook.get_absolute_url())
    assert (answer.status_code, answer["X-Robots-Tag"]) == (200, "noindex")
    assert "A hook" not in words(client.get("/procedures/"))
    alice.post(page, {"readers": "public"})  # the same draft: no new revision, other readers
    hook.refresh_from_db()
    assert (hook.is_public, hook.latest.number) == (True, 1)
    assert "X-Robots-Tag" not in client.get(hook.get_absolute_url())


def test_who_says_nothing_of_readers_changes_none(alice, anvil):
    hook = a_draft()
    page = reverse("procedures:publish", args=[hook.slug])
    alice.post(page, {"readers": "unlisted"})
    alice.post(page, {"note": "Again"})
    hook.refresh_from_db()
    assert hook.status == "unlisted"


def test_guild_one_is_not_in_is_no_choice(charlie, anvil):
    hook = a_draft(owner="charlie")
    answer = charlie.post(reverse("procedures:publish", args=[hook.slug]), {"readers": f"guild-{anvil.pk}"})
    assert answer.status_code == 422
    hook.refresh_from_db()
    assert hook.status == "draft"


def test_what_others_cite_goes_to_a_guild_by_way_of_a_stone(alice, bob, client, anvil):
    hook = published()
    page = reverse("procedures:publish", args=[hook.slug])
    refused = alice.post(page, {"readers": f"guild-{anvil.pk}"})
    assert "Withdraw it first" in words(refused)
    assert client.get(hook.get_absolute_url()).status_code == 200
    alice.post(reverse("procedures:unpublish", args=[hook.slug]), {"reason": "For the guild now."})
    alice.post(page, {"readers": f"guild-{anvil.pk}"})
    stone = client.get(hook.get_absolute_url())
    assert (stone.status_code, "For the guild now." in words(stone)) == (410, True)
    assert bob.get(hook.get_absolute_url()).status_code == 200


def test_stone_of_what_only_a_guild_read_is_the_guilds(alice, bob, charlie, anvil):
    hook = a_draft()
    actions.publish(procedure=hook, status="guild", guild=anvil, by=hook.owner)
    alice.post(reverse("procedures:unpublish", args=[hook.slug]), {"reason": "Cracked at the eye."})
    assert "Cracked at the eye." in words(bob.get(hook.get_absolute_url()))
    assert charlie.get(hook.get_absolute_url()).status_code == 404


def test_kept_page_of_a_guilds_procedure_stays_out_of_shared_caches(bob, anvil):
    hook = a_draft()
    actions.publish(procedure=hook, status="guild", guild=anvil, by=hook.owner)
    answer = bob.get(f"/shop/{hook.slug}/1/metric/scale/")
    assert answer.status_code == 200
    assert "private" in answer["Cache-Control"]
    assert "public" not in answer["Cache-Control"]


def test_title_of_what_a_guild_reads_is_no_link_for_others(bob, client, anvil):
    hook = a_draft()
    actions.publish(procedure=hook, status="guild", guild=anvil, by=hook.owner)
    hook.refresh_from_db()
    mine = actions.adapt(revision=hook.latest, by=person("bob"))
    actions.publish(procedure=mine, by=mine.owner)
    page = client.get(mine.get_absolute_url()).content.decode()
    assert "Adapted from “A hook”, revision 1" in page
    assert f"/p/{hook.slug}/" not in page
