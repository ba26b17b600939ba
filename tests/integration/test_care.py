"""Care: reports, what moderators do about them, who may not write, and who wants nothing of whom."""

from datetime import timedelta

import pytest
from django.core import mail
from django.core.management import CommandError, call_command
from django.urls import reverse
from django.utils import timezone

from procedures import actions
from procedures.actions import Refused
from procedures.exchange.account import Leaving
from procedures.models import (
    Collection,
    Facts,
    Follow,
    Guild,
    Membership,
    ModerationAct,
    Procedure,
    Question,
    Report,
    ShutOut,
    Thanks,
    WritingBlock,
    WrittenWarning,
)
from procedures.models.care import AppendOnly
from procedures.queries.care import described
from procedures.standing import may_write

from .authoring import HTMX, typed, words
from .conftest import at_the_browser
from .showing import a_draft, person, published, retitled

pytestmark = pytest.mark.django_db
SIGN_IN = "/accounts/login/"
WHY = "It tears at the eye."


@pytest.fixture
def mo(db):
    """A moderator at the browser."""
    actions.name_moderator(person=person("mo"), by=None)
    return at_the_browser("mo")


def report_of(kind, key):
    return reverse("procedures:report", args=[kind, key])


def page_of(thing):
    told = described(thing)
    return reverse("procedures:moderated", args=[told.kind, told.item])


def do(client, thing, name, **more):
    told = {f"{name}-{key}": value for key, value in more.items() if key not in ("which", "person")}
    plain = {key: value for key, value in more.items() if key in ("which", "person")}
    return client.post(page_of(thing), {"do": name, **told, **plain})


def asked(procedure, text="How hot?", by="charlie"):
    return actions.ask(revision=procedure.latest, part="bar", step="s2", words=text, by=person(by))


def all_kinds():
    """One of each kind of thing, all alice's and all public, with the key in the address of its report."""
    hook = published()
    question = asked(hook, by="alice")
    answer = actions.answer(question=question, words="So.", by=person("alice"))
    result = hook.results.create(revision=hook.latest, by=person("alice"), forged="2027-03-09", words="Held.")
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    hooks = Collection.objects.create(owner=person("alice"), title="Hooks", slug="hooks", status="public")
    return {
        "procedure": (hook, hook.slug),
        "revision": (hook.latest, hook.latest.code),
        "question": (question, question.pk),
        "answer": (answer, answer.pk),
        "result": (result, result.pk),
        "collection": (hooks, hooks.slug),
        "guild": (guild, guild.slug),
        "person": (person("alice"), "alice"),
    }


# -- reporting ---------------------------------------------------------------------------------------


KINDS = ("procedure", "revision", "question", "answer", "result", "collection", "guild", "person")


@pytest.mark.parametrize("kind", KINDS)
def test_anybody_signed_in_or_not_reports_each_kind_of_thing(client, charlie, mo, kind):
    thing, key = all_kinds()[kind]
    for one in (client, charlie):
        assert one.get(report_of(kind, key)).status_code == 200
        sent = one.post(report_of(kind, key), {"reason": "unsafe", "words": WHY})
        assert sent.status_code == 302
    found = Report.objects.all()
    assert [(one.kind, one.item, one.by) for one in found] == [
        (kind, thing.pk, None),
        (kind, thing.pk, charlie.user),
    ]
    assert {one.about for one in found} == {person("alice")}
    queue = words(mo.get(reverse("procedures:moderation")))
    assert "2 reports" in queue
    shown = words(mo.get(page_of(thing)))
    assert WHY in shown
    assert "charlie" in shown


@pytest.mark.parametrize(
    ("sent", "told"),
    [
        ({}, "Say what is wrong with it."),
        ({"reason": "boring"}, "boring is not one of the available choices"),
        ({"reason": "other"}, "Say in a few words what is wrong."),
        ({"reason": "spam", "words": "x" * 2001}, "2000"),
    ],
)
def test_report_that_says_too_little_or_too_much_is_refused_and_kept(charlie, sent, told):
    answer = charlie.post(report_of("procedure", published().slug), sent)
    assert answer.status_code == 422
    assert told in words(answer)
    assert not Report.objects.exists()


def test_one_open_report_for_each_person_and_thing(charlie):
    hook = published()
    for reason in ("spam", "unsafe"):
        charlie.post(report_of("procedure", hook.slug), {"reason": reason})
    assert [one.reason for one in Report.objects.all()] == ["unsafe"]
    Report.objects.update(closed=timezone.now())
    charlie.post(report_of("procedure", hook.slug), {"reason": "abuse"})
    assert Report.objects.count() == 2


def test_strangers_reports_of_one_thing_are_few_and_slow(client, settings):
    hook = published()
    settings.ACCOUNT_RATE_LIMITS = {"report_unnamed": "7/h/ip", "report": "1/h/user"}
    answers = [client.post(report_of("procedure", hook.slug), {"reason": "spam"}) for _ in range(8)]
    assert [one.status_code for one in answers] == [302] * 7 + [429]
    assert Report.objects.count() == 5


def test_machine_that_fills_in_everything_reports_nothing_and_is_not_told(client):
    sent = {"reason": "spam", "words": "Buy!", "website": "http://buy.example"}
    assert client.post(report_of("procedure", published().slug), sent).status_code == 302
    assert not Report.objects.exists()


def test_what_one_may_not_see_is_not_reported(client, charlie, alice, settings):
    settings.ACCOUNT_RATE_LIMITS = {"report_unnamed": "99/h/ip", "report": "99/h/user"}
    draft = a_draft()
    hook = published()
    question = asked(hook)
    gone = published()
    actions.unpublish(procedure=gone, reason="It tears.", by=alice.user)
    Question.objects.filter(pk=question.pk).update(hidden=timezone.now())
    secret = actions.found_guild(name="Secret", by=alice.user)
    Guild.objects.filter(pk=secret.pk).update(listed=False)
    for kind, key in (
        ("procedure", draft.slug),
        ("procedure", gone.slug),
        ("revision", gone.latest.code),
        ("question", question.pk),
        ("question", "9" * 40),
        ("question", "²"),
        ("answer", "x"),
        ("guild", "secret"),
        ("person", "nobody-here"),
        ("anvil", "1"),
    ):
        for one in (client, charlie):
            assert one.get(report_of(kind, key)).status_code == 404, (kind, key)
            assert one.post(report_of(kind, key), {"reason": "spam"}).status_code == 404, (kind, key)


def test_ones_own_is_not_reported(alice):
    answer = alice.post(report_of("procedure", published().slug), {"reason": "spam"})
    assert answer.status_code == 422
    assert "This is your own" in words(answer)


def test_script_in_a_report_is_text(charlie, mo):
    hook = published()
    charlie.post(report_of("procedure", hook.slug), {"reason": "other", "words": "<script>alert(1)</script>"})
    assert "<script>alert" not in mo.get(page_of(hook)).content.decode()


# -- who looks after the site ------------------------------------------------------------------------


def test_moderators_pages_are_theirs_alone(client, charlie, mo):
    pages = [
        reverse("procedures:moderation"),
        reverse("procedures:moderation_log"),
        page_of(published()),
        page_of(charlie.user),
    ]
    for page in pages:
        assert client.get(page).url.startswith(SIGN_IN)
        assert client.post(page).url.startswith(SIGN_IN)
        assert charlie.get(page).status_code == 404
        assert charlie.post(page, {"do": "hide", "hide-why": "Mine."}).status_code == 404
        assert mo.get(page).status_code == 200
    assert not Procedure.objects.filter(hidden__isnull=False).exists()


def test_command_names_a_moderator_and_removes_one(charlie, capsys):
    page = reverse("procedures:moderation")
    call_command("moderator", "charlie")
    assert charlie.get(page).status_code == 200
    call_command("moderator", "charlie", "--remove")
    assert charlie.get(page).status_code == 404
    assert [one.what for one in ModerationAct.objects.all()] == ["removed", "named"]
    assert "charlie is no moderator now." in capsys.readouterr().out
    with pytest.raises(CommandError, match="Nobody here is called zoe"):
        call_command("moderator", "zoe")


@pytest.mark.parametrize("kind", KINDS)
def test_nobody_decides_about_themselves(mo, kind):
    thing, _ = all_kinds()[kind]
    actions.name_moderator(person=person("alice"), by=None)
    alice = at_the_browser("alice")
    assert "another moderator has to look at it" in words(alice.get(page_of(thing)))
    before = ModerationAct.objects.count()
    for name, more in (
        ("dismiss", {"why": "Fine."}),
        ("hide", {"why": "Fine."}),
        ("warn", {"words": "Fine."}),
        ("block", {"days": "1", "why": "Fine."}),
    ):
        do(alice, thing, name, **more)
    assert ModerationAct.objects.count() == before
    assert not WrittenWarning.objects.exists()


def test_who_is_no_moderator_any_more_does_nothing(mo):
    hook = published()
    actions.name_moderator(person=mo.user, remove=True, by=None)
    with pytest.raises(Refused, match="look after the site"):
        actions.hide(thing=described(hook), reason="x", by=mo.user)


def test_log_is_only_added_to(mo):
    do(mo, published(), "hide", why=WHY)
    line = ModerationAct.objects.first()
    for change in (line.save, line.delete, ModerationAct.objects.all().delete):
        with pytest.raises(AppendOnly):
            change()
    with pytest.raises(AppendOnly):
        ModerationAct.objects.update(why="Nothing.")
    assert WHY in words(mo.get(reverse("procedures:moderation_log")))


# -- hiding ------------------------------------------------------------------------------------------


def test_hidden_procedure_reads_as_withdrawn_everywhere_but_for_its_author(client, alice, charlie, mo):
    hook = published()
    charlie.post(report_of("procedure", hook.slug), {"reason": "unsafe", "words": "Dangerous."})
    do(mo, hook, "hide", why=WHY)
    slug = [hook.slug]
    for name, more in (
        ("read", []),
        ("card", []),
        ("follow_start", []),
        ("document", []),
        ("package", []),
        ("questions", []),
        ("results", []),
        ("revision", [1]),
        ("stages", ["bar"]),
        ("bibtex", [1]),
    ):
        for stranger in (client, charlie):
            gone = stranger.get(reverse(f"procedures:{name}", args=slug + more))
            assert gone.status_code == 410, name
            assert WHY not in words(gone)
            assert "A hook" not in words(gone)
    assert hook.slug not in client.get("/procedures/").content.decode()
    assert not Facts.objects.exists()
    assert client.get(f"/api/1/procedures/{hook.slug}").status_code == 410
    own = words(alice.get(hook.get_absolute_url()))
    assert "Hidden by those who look after the site" in own
    assert WHY in own
    assert WHY in words(alice.get(reverse("procedures:care")))
    assert "Hidden by those who look after the site" in words(alice.get(reverse("procedures:news")))
    assert mo.get(hook.get_absolute_url()).status_code == 200
    assert [one.to for one in mail.outbox] in ([], [["alice@example.org"]])
    assert Report.objects.get().outcome == "acted"


def test_hidden_procedure_stays_hidden_when_published_again_and_comes_back_as_it_was(client, alice, mo):
    hook = published()
    do(mo, hook, "hide", why=WHY)
    hook.refresh_from_db()
    retitled(hook, "Another hook")
    actions.publish(procedure=hook, by=alice.user)
    assert client.get(hook.get_absolute_url()).status_code == 410
    do(mo, hook, "unhide", why="Mended.")
    assert client.get(hook.get_absolute_url()).status_code == 200
    assert Facts.objects.count() == 1
    lines = list(ModerationAct.objects.filter(kind="procedure").values_list("what", "why"))
    assert lines == [("unhidden", "Mended."), ("hidden", WHY)]
    line = ModerationAct.objects.filter(kind="procedure").first()
    assert line.before == {"hidden": True, "reason": WHY}
    assert line.after == {"hidden": False}


def test_guild_only_procedure_that_is_hidden_goes_back_to_its_guild_alone(alice, charlie, mo):
    guild = actions.found_guild(name="The Anvil", by=alice.user)
    hook = a_draft()
    actions.publish(procedure=hook, status="guild", guild=guild, by=alice.user)
    do(mo, hook, "hide", why=WHY)
    hook.refresh_from_db()
    retitled(hook, "Another hook")
    actions.publish(procedure=hook, by=alice.user)
    do(mo, hook, "unhide", why="Mended.")
    assert charlie.get(hook.get_absolute_url()).status_code == 404


def test_hidden_revision_gives_way_to_the_one_before_it(client, alice, mo):
    hook = published()
    retitled(hook, "A rude hook")
    second = actions.publish(procedure=hook, by=alice.user)
    do(mo, second, "hide", why=WHY)
    page = words(client.get(hook.get_absolute_url()))
    assert "A rude hook" not in page
    gone = client.get(reverse("procedures:revision", args=[hook.slug, 2]))
    assert gone.status_code == 410
    assert "A rude hook" not in words(gone)
    assert alice.get(reverse("procedures:revision", args=[hook.slug, 2])).status_code == 200
    only = hook.revisions.get(number=1)
    do(mo, only, "hide", why=WHY)
    only.refresh_from_db()
    assert only.hidden is None
    do(mo, second, "unhide", why="Mended.")
    assert "A rude hook" in words(client.get(hook.get_absolute_url()))


def test_hidden_words_are_read_by_their_writer_alone(client, charlie, mo):
    hook = published()
    question = asked(hook, "Rude words.")
    do(mo, question, "hide", why="Be civil.")
    page = question.get_absolute_url()
    assert "Rude words." not in words(client.get(page))
    own = words(charlie.get(page))
    assert "Rude words." in own
    assert "Be civil." in own
    do(mo, question, "unhide", why="A mistake.")
    assert "Rude words." in words(client.get(page))


def test_hidden_guild_is_seen_by_its_members_alone(client, alice, charlie, mo):
    guild = actions.found_guild(name="The Anvil", by=alice.user)
    do(mo, guild, "hide", why=WHY)
    assert client.get(guild.get_absolute_url()).url.startswith(SIGN_IN)
    assert charlie.get(guild.get_absolute_url()).status_code == 404
    assert "The Anvil" not in words(charlie.get("/guilds/"))
    assert WHY in words(alice.get(guild.get_absolute_url()))


def test_reports_are_closed_where_nothing_is_to_be_done(charlie, mo):
    hook = published()
    charlie.post(report_of("procedure", hook.slug), {"reason": "spam"})
    assert do(mo, hook, "dismiss").status_code == 422
    do(mo, hook, "dismiss", why="It is no advertising.")
    assert Report.objects.get().outcome == "dismissed"
    assert "Looked at, and left as it is" in words(charlie.get(reverse("procedures:care")))
    assert "Nothing waits" in words(mo.get(reverse("procedures:moderation")))


def test_reports_of_what_is_gone_are_closed(charlie, alice, mo):
    hook = published()
    page = page_of(hook)
    charlie.post(report_of("procedure", hook.slug), {"reason": "spam"})
    actions.delete_procedure(procedure=hook, by=alice.user)
    assert "It is gone" in words(mo.get(page))
    mo.post(page, {"do": "close"})
    assert Report.objects.get().closed
    assert ModerationAct.objects.first().why == "It is gone."


# -- warning and blocking ----------------------------------------------------------------------------


def test_warning_is_read_before_writing_on(charlie, mo):
    hook = published()
    question = asked(hook)
    do(mo, question, "warn", words="Be civil.")
    ask = reverse("procedures:ask", args=[hook.slug, "bar", "s2"])
    refused = charlie.post(ask, {"words": "Why?"})
    assert refused.status_code == 403
    assert "Be civil." in words(refused)
    assert charlie.post(ask, {"words": "Why?"}, headers=HTMX)["HX-Redirect"] == reverse("procedures:care")
    assert charlie.get(hook.get_absolute_url()).status_code == 200
    warning = WrittenWarning.objects.get()
    at_the_browser("bob").post(reverse("procedures:read_warning", args=[warning.pk]))
    assert charlie.post(ask, {"words": "Why?"}).status_code == 403
    charlie.post(reverse("procedures:read_warning", args=[warning.pk]))
    assert charlie.post(ask, {"words": "Why?"}).status_code == 302
    assert Question.objects.count() == 2


def test_blocked_person_reads_on_and_is_told_until_when_why_and_where_to_write(charlie, mo, settings):
    settings.CONTACT = "care@forge.example"
    hook = published()
    do(mo, charlie.user, "block", days="7", why="It was abuse.")
    refused = charlie.post(reverse("procedures:thank", args=[hook.slug]))
    assert refused.status_code == 403
    until = WritingBlock.objects.get().until
    for told in (f"{until:%-d %B %Y}", "It was abuse.", "care@forge.example"):
        assert told in words(refused)
        assert told in words(charlie.get(reverse("procedures:care")))
    assert charlie.get(hook.get_absolute_url()).status_code == 200
    assert charlie.post("/units/", {"units": "inch"}).status_code == 302
    own = charlie.post(reverse("procedures:export_account"))
    assert b"".join(own).startswith(b"PK")
    assert not Thanks.objects.exists()


def test_block_ends_by_itself_or_is_lifted(charlie, mo):
    do(mo, charlie.user, "block", days="1", why="It was abuse.")
    do(mo, charlie.user, "block", days="good", why="It was abuse again.")
    assert not may_write(charlie.user)
    for_good = WritingBlock.objects.get(until=None)
    do(mo, charlie.user, "lift", which=for_good.pk, why="They mended their ways.")
    assert not may_write(charlie.user)
    WritingBlock.objects.update(until=timezone.now() - timedelta(seconds=1))
    assert may_write(charlie.user)
    assert [one.what for one in ModerationAct.objects.filter(about=charlie.user)] == [
        "unblocked",
        "blocked",
        "blocked",
    ]


def test_moderator_is_blocked_for_good_by_two_others_only(mo):
    for name in ("max", "may"):
        actions.name_moderator(person=person(name), by=None)
    maximilian, may = at_the_browser("max"), at_the_browser("may")
    do(mo, maximilian.user, "block", days="good", why="It was abuse.")
    block = WritingBlock.objects.get()
    assert block.waits
    assert may_write(maximilian.user)
    for one in (mo, maximilian):
        one.post(page_of(maximilian.user), {"do": "confirm", "which": block.pk})
        assert may_write(maximilian.user)
    may.post(page_of(maximilian.user), {"do": "confirm", "which": block.pk})
    assert not may_write(maximilian.user)
    told = ModerationAct.objects.filter(about=maximilian.user)
    assert [(one.what, one.by) for one in told][:2] == [("blocked", may.user), ("proposed", mo.user)]


def test_of_several_keepers_the_one_who_is_meant_is_warned(mo, charlie):
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    Membership.objects.create(guild=guild, user=charlie.user, role="keeper")
    do(mo, guild, "warn", words="Be civil.")
    assert not WrittenWarning.objects.exists()
    do(mo, guild, "warn", words="Be civil.", person=charlie.user.pk)
    assert WrittenWarning.objects.get().user == charlie.user


def test_program_of_a_blocked_person_reads_and_does_not_write(client, charlie, mo):
    hook = published()
    _, secret = _token(charlie.user)
    bearer = {"Authorization": f"Bearer {secret}"}
    do(mo, charlie.user, "block", days="1", why="It was abuse.")
    assert client.get(f"/api/1/procedures/{hook.slug}", headers=bearer).status_code == 200
    sent = client.post("/api/1/procedures", hook.document, content_type="application/json", headers=bearer)
    assert sent.status_code == 403
    assert Procedure.objects.count() == 1


def _token(user):
    return actions.make_token(name="A program", writes=True, days=1, by=user)


# -- shutting somebody out ---------------------------------------------------------------------------


def shut_out(client, name, **more):
    return client.post(reverse("procedures:shut_out", args=[name]), more)


def test_who_is_shut_out_asks_answers_offers_and_thanks_no_more(alice, charlie):
    hook = published()
    question = asked(hook, by="alice")
    copy = actions.adapt(revision=hook.latest, by=charlie.user)
    shut_out(alice, "charlie")
    assert charlie.get(hook.get_absolute_url()).status_code == 200
    ask = reverse("procedures:ask", args=[hook.slug, "bar", "s2"])
    refused = charlie.post(ask, {"words": "Why?"})
    assert refused.status_code == 422
    assert "takes no more questions" in words(refused)
    assert charlie.post(reverse("procedures:answer", args=[hook.slug, question.pk])).status_code == 404
    for deed in (
        lambda: actions.answer(question=question, words="So.", by=charlie.user),
        lambda: actions.thank(thing=hook, named=False, by=charlie.user),
        lambda: actions.offer_back(procedure=copy, names={"x"}, note="", by=charlie.user),
    ):
        with pytest.raises(Refused):
            deed()
    shut_out(alice, "charlie", **{"in": "1"})
    assert charlie.post(ask, {"words": "Why?"}).status_code == 302


def test_neither_sees_the_others_talk_and_others_see_both(alice, charlie, client):
    hook = published()
    bob = person("bob")
    mine = asked(hook, "Asked by charlie", by="charlie")
    theirs = asked(hook, "Asked by bob", by="bob")
    actions.accept(
        answer=actions.answer(question=theirs, words="Answered by charlie", by=charlie.user), by=bob
    )
    hook.results.create(revision=hook.latest, by=charlie.user, forged="2027-03-09", words="Forged by charlie")
    shut_out(charlie, "bob")
    bobs = at_the_browser("bob")
    listed = reverse("procedures:questions", args=[hook.slug])
    results = reverse("procedures:results", args=[hook.slug])
    assert "Asked by charlie" not in words(bobs.get(listed))
    assert "Answered by charlie" not in words(bobs.get(listed))
    assert "Forged by charlie" not in words(bobs.get(results))
    assert "Asked by bob" not in words(charlie.get(listed))
    assert bobs.get(mine.get_absolute_url()).status_code == 404
    assert charlie.get(theirs.get_absolute_url()).status_code == 404
    for other in (client, alice):
        shown = words(other.get(listed))
        assert "Asked by charlie" in shown
        assert "Asked by bob" in shown
        assert "Forged by charlie" in words(other.get(results))
    assert "charlie answered you" not in words(bobs.get(reverse("procedures:news")))


def test_neither_follows_the_other_any_more(alice, charlie):
    hook = published()
    actions.follow(thing=hook, by=charlie.user)
    actions.follow(thing=charlie.user, by=alice.user)
    shut_out(alice, "charlie")
    assert not Follow.objects.exists()
    with pytest.raises(Refused):
        actions.follow(thing=hook, by=charlie.user)


def test_hidden_collection_is_seen_by_its_keeper_alone(client, alice, charlie, mo):
    hooks, _ = all_kinds()["collection"]
    do(mo, hooks, "hide", why=WHY)
    for stranger in (client, charlie):
        assert stranger.get(hooks.get_absolute_url()).status_code == 404
    assert WHY in words(alice.get(hooks.get_absolute_url()))
    do(mo, hooks, "unhide", why="Mended.")
    assert client.get(hooks.get_absolute_url()).status_code == 200


def test_who_is_shut_out_is_told_nowhere(alice, charlie):
    published()
    shut_out(alice, "charlie")
    for page in ("procedures:care", "procedures:news", "procedures:export_account"):
        assert "alice" not in words(charlie.get(reverse(page)))
    assert "charlie" in words(alice.get(reverse("procedures:care")))


def test_nobody_shuts_out_themselves_or_nobody(alice):
    assert shut_out(alice, "alice").status_code == 404
    assert shut_out(alice, "zoe").status_code == 404
    with pytest.raises(Refused):
        actions.shut_out(person=alice.user, by=alice.user)
    assert not ShutOut.objects.exists()


# -- going -------------------------------------------------------------------------------------------


def test_who_leaves_goes_out_of_reports_and_the_log(charlie, mo, alice):
    actions.report(thing=described(charlie.user), reason="abuse", words="", by=alice.user)
    do(mo, charlie.user, "warn", words="Be civil.")
    actions.leave(leaving=Leaving(keep_published=False, name_out=False), by=charlie.user)
    assert not WrittenWarning.objects.exists()
    line = ModerationAct.objects.get(what="warned")
    assert line.about is None
    assert "charlie" not in line.title
    assert "charlie" not in Report.objects.get().title


def test_lists_of_moderators_take_as_many_queries_however_long(mo, charlie, django_assert_max_num_queries):
    hook = published()
    for n in range(12):
        question = asked(hook, f"Question {n}")
        actions.report(thing=described(question), reason="spam", words="", by=person("bob"))
        do(mo, question, "hide", why=f"Spam {n}")
        actions.report(thing=described(question), reason="spam", words="", by=person("dan"))
    with django_assert_max_num_queries(12):
        mo.get(reverse("procedures:moderation"))
    with django_assert_max_num_queries(8):
        mo.get(reverse("procedures:moderation_log"))


# -- how often ---------------------------------------------------------------------------------------


def test_what_has_no_rate_of_its_own_is_limited_too(alice, client, settings):
    settings.ACCOUNT_RATE_LIMITS = {"write": "2/h/user", "write_unnamed": "2/h/ip"}
    hook = a_draft()
    undo = reverse("procedures:undo", args=[hook.slug])
    assert [alice.post(undo).status_code == 429 for _ in range(3)] == [False, False, True]
    units = [client.post("/units/", {"units": "inch"}).status_code for _ in range(3)]
    assert units == [302, 302, 429]


def test_answers_to_offers_are_limited(alice, charlie, settings):
    hook = published()
    copy = actions.adapt(revision=hook.latest, by=charlie.user)
    typed(charlie, copy, "s2", param__target="10 sq")
    copy.refresh_from_db()
    offer = actions.offer_back(procedure=copy, names={"changed/bar/s2"}, note="Try it.", by=charlie.user)
    settings.ACCOUNT_RATE_LIMITS = {"talk": "2/h/user"}
    answers = [alice.post(offer.get_absolute_url(), {"decline": "x"}).status_code for _ in range(3)]
    assert answers == [302, 302, 429]
