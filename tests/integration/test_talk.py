"""Questions and answers on steps: asked, answered, accepted, folded into the draft, taken back, hidden."""

import pytest
from django.urls import reverse
from django.utils import timezone

from procedures import actions
from procedures.models import Answer, Membership, Procedure, Question

from .authoring import HTMX, the_form, words
from .conftest import at_the_browser
from .showing import a_draft, a_hook, person, published

pytestmark = pytest.mark.django_db
SIGN_IN = "/accounts/login/"


def at(name, procedure, *more):
    return reverse(f"procedures:{name}", args=[procedure.slug, *more])


def asked(procedure, text="How hot?", by="charlie", step="s2"):
    return actions.ask(revision=procedure.latest, part="bar", step=step, words=text, by=person(by))


def answered(question, text="Bright **orange**.", by="bob"):
    return actions.answer(question=question, words=text, by=person(by))


def note_of(procedure, step=1):
    procedure.refresh_from_db()
    return procedure.document["parts"][0]["steps"][step].get("note", "")


# -- asking ------------------------------------------------------------------------------------------


def test_who_may_read_asks_on_a_step_and_the_author_finds_it(alice, charlie):
    hook = published()
    page = at("step_questions", hook, "bar", "s2")
    form = the_form(charlie.get(page).content.decode(), "ask-bar-s2")
    response = charlie.post(form.action, form.fields | {"words": "How hot?"})
    assert response.status_code == 302
    text = words(alice.get(response.url))
    assert "How hot?" in text
    assert "Step 2, Draw out (Bar)" in text
    assert "charlie asked: Step 2, Draw out (Bar)" in words(alice.get(reverse("procedures:news")))


def test_question_folds_out_under_the_step_and_is_counted_there(client, charlie):
    hook = published()
    asked(hook)
    asked(hook, "And how long?")
    html = client.get(f"/p/{hook.slug}/").content.decode()
    assert 'Questions <span class="talk__count">2</span></summary>' in html
    assert "2 questions" in words(html)
    fragment = client.get(at("step_questions", hook, "bar", "s2"), headers=HTMX)
    assert "And how long?" in words(fragment)
    assert "<html" not in fragment.content.decode()
    assert "HX-Request" in fragment["Vary"]


def test_htmx_gets_the_fragment_back_and_what_is_wrong_with_what_was_typed(charlie):
    hook = published()
    page = at("ask", hook, "bar", "s2")
    good = charlie.post(page, {"words": "How hot?"}, headers=HTMX)
    assert good.status_code == 200
    assert "Your question is asked." in words(good)
    for typed, said in (("   ", "Write something first."), ("x" * 4001, "4000"), ("a\0b", "Null characters")):
        bad = charlie.post(page, {"words": typed}, headers=HTMX)
        assert bad.status_code == 422
        assert said in words(bad)
    assert "x" * 4001 in bad.content.decode() or Question.objects.count() == 1


def test_what_was_typed_is_kept_when_it_is_refused(charlie):
    hook = published()
    response = charlie.post(at("ask", hook, "bar", "s2"), {"words": "long " * 1000})
    assert response.status_code == 422
    assert "long long long" in response.content.decode()


@pytest.mark.parametrize(("part", "step"), [("bar", "nothing"), ("nothing", "s2")])
def test_there_is_no_asking_on_a_step_that_is_not_there(charlie, part, step):
    hook = published()
    assert charlie.get(at("step_questions", hook, part, step)).status_code == 404
    assert charlie.post(at("ask", hook, part, step), {"words": "Why?"}).status_code == 404
    assert not Question.objects.exists()


def test_script_in_a_question_and_an_answer_is_text(client):
    hook = published()
    question = asked(hook, "<script>alert(1)</script> [x](javascript:alert(2))")
    answered(question, "<img src=x onerror=alert(3)>")
    for page in (
        at("question", hook, question.pk),
        at("questions", hook),
        at("step_questions", hook, "bar", "s2"),
    ):
        html = client.get(page).content.decode()
        assert "<script>alert" not in html
        assert "<img src=x" not in html
        assert 'href="javascript' not in html


def test_author_takes_no_more_questions_and_takes_them_again(alice, charlie):
    hook = published()
    question = asked(hook)
    alice.post(at("close_questions", hook), {"close": "1"})
    assert "takes no more questions" in words(charlie.get(at("step_questions", hook, "bar", "s2")))
    refused = charlie.post(at("ask", hook, "bar", "s2"), {"words": "Why?"})
    assert refused.status_code == 422
    answered(question)
    assert charlie.post(at("close_questions", hook), {"open": "1"}).status_code == 404
    alice.post(at("close_questions", hook), {"open": "1"})
    assert charlie.post(at("ask", hook, "bar", "s2"), {"words": "Why?"}).status_code == 302


# -- who may -----------------------------------------------------------------------------------------


def test_stranger_reads_and_is_sent_to_sign_in_to_speak(client):
    hook = published()
    question = asked(hook)
    answer = answered(question)
    assert "Sign in to answer" in words(client.get(at("question", hook, question.pk)))
    for page in (
        at("ask", hook, "bar", "s2"),
        at("answer", hook, question.pk),
        at("accept_answer", hook, answer.pk),
        at("fold_answer", hook, answer.pk),
        at("edit_question", hook, question.pk),
        at("thank", hook),
    ):
        assert client.post(page, {"words": "Me too."}).url.startswith(SIGN_IN)
    assert Answer.objects.count() == 1


def test_what_nobody_may_read_nobody_asks_about(client, charlie):
    draft = a_draft()
    for one in (client, charlie):
        assert one.get(at("questions", draft)).status_code == 404
        assert one.get(at("step_questions", draft, "bar", "s2")).status_code == 404
    assert charlie.post(at("ask", draft, "bar", "s2"), {"words": "Why?"}).status_code == 404


def test_talk_of_what_is_withdrawn_is_a_stone_too(client, alice, charlie):
    hook = published()
    question = asked(hook)
    actions.unpublish(procedure=hook, reason="It tears.", by=alice.user)
    for page in (at("questions", hook), at("question", hook, question.pk), at("results", hook)):
        assert client.get(page).status_code == 410
    assert charlie.post(at("answer", hook, question.pk), {"words": "So."}).status_code == 410
    assert alice.get(at("question", hook, question.pk)).status_code == 200


def test_what_is_published_for_a_guild_is_talked_of_in_the_guild(client, charlie):
    guild = actions.found_guild(name="The Anvil", by=person("alice"))
    Membership.objects.create(guild=guild, user=person("bob"), role="member")
    hook, bob = a_draft(), at_the_browser("bob")
    actions.publish(procedure=hook, status=Procedure.Status.GUILD, guild=guild, by=person("alice"))
    hook.refresh_from_db()
    page = at("ask", hook, "bar", "s2")
    assert bob.post(page, {"words": "How hot?"}).status_code == 302
    question = Question.objects.get()
    told = (at("questions", hook), at("question", hook, question.pk), at("results", hook))
    for one in told:
        assert bob.get(one).status_code == 200
        assert [reader.get(one).status_code for reader in (client, charlie)] == [404, 404]
    assert charlie.post(page, {"words": "Me too?"}).status_code == 404
    assert charlie.post(at("thank", hook)).status_code == 404


def test_question_of_another_procedure_is_not_shown_here(client, charlie):
    hook, other = published(), published()
    question = asked(hook)
    answer = answered(question)
    assert client.get(at("question", other, question.pk)).status_code == 404
    assert charlie.post(at("accept_answer", other, answer.pk)).status_code == 404
    assert client.get(at("question", hook, 10**12)).status_code == 404


# -- answering, accepting ----------------------------------------------------------------------------


def test_anyone_signed_in_answers_and_the_asker_or_the_author_accepts(alice, charlie):
    hook, bob = published(), at_the_browser("bob")
    question = asked(hook)
    page = at("question", hook, question.pk)
    form = the_form(bob.get(page).content.decode(), "answer-form")
    assert bob.post(form.action, form.fields | {"words": "Orange."}).status_code == 302
    answer = Answer.objects.get()
    assert bob.post(at("accept_answer", hook, answer.pk)).status_code == 404
    for one in (charlie, alice):
        one.post(at("accept_answer", hook, answer.pk))
        question.refresh_from_db()
        assert question.accepted == answer
        one.post(at("accept_answer", hook, answer.pk), {"none": "1"})
        question.refresh_from_db()
        assert question.accepted is None
    assert "bob answered you" in words(charlie.get(reverse("procedures:news")))


def test_own_words_are_changed_and_those_of_others_are_not(charlie):
    hook, bob = published(), at_the_browser("bob")
    question = asked(hook)
    answer = answered(question)
    assert bob.get(at("edit_question", hook, question.pk)).status_code == 404
    assert charlie.post(at("edit_answer", hook, answer.pk), {"words": "Blue."}).status_code == 404
    assert bob.post(at("edit_answer", hook, answer.pk), {"words": " "}).status_code == 422
    assert bob.post(at("edit_answer", hook, answer.pk), {"words": "Yellow."}).status_code == 302
    text = words(bob.get(at("question", hook, question.pk)))
    assert "Yellow." in text
    assert "changed" in text


def test_question_that_was_answered_leaves_its_place_when_it_is_taken_back(charlie):
    hook = published()
    question, alone = asked(hook, "A secret."), asked(hook, "Nobody cares.")
    answered(question)
    for one in (question, alone):
        charlie.post(at("delete_question", hook, one.pk))
    assert not Question.objects.filter(pk=alone.pk).exists()
    text = words(charlie.get(at("question", hook, question.pk)))
    assert "This question was deleted by its writer." in text
    assert "A secret." not in text
    assert "Bright orange" in text
    assert "charlie" not in text
    refused = charlie.post(at("answer", hook, question.pk), {"words": "More."})
    assert refused.status_code == 422
    assert "talk__count" not in charlie.get(f"/p/{hook.slug}/").content.decode()


def test_answer_that_is_taken_back_is_accepted_no_longer(charlie):
    hook, bob = published(), at_the_browser("bob")
    question = asked(hook)
    answer = answered(question)
    actions.accept(answer=answer, by=charlie.user)
    bob.post(at("delete_answer", hook, answer.pk))
    question.refresh_from_db()
    assert question.accepted is None
    assert "This answer was deleted by its writer." in words(charlie.get(at("question", hook, question.pk)))
    with pytest.raises(actions.Refused):
        actions.accept(answer=answer, by=charlie.user)


def test_what_is_hidden_is_read_by_its_writer_alone(client, alice, charlie):
    hook = published()
    question = asked(hook, "Rude words.")
    answer = answered(question, "Ruder words.")
    for one in (question, answer):
        one.hidden, one.hidden_reason = timezone.now(), "Be kind."
        one.save()
    pages = (
        at("question", hook, question.pk),
        at("questions", hook),
        at("step_questions", hook, "bar", "s2"),
    )
    for page in pages:
        for reader in (client, alice):
            assert "ude" not in words(reader.get(page))
    own = words(charlie.get(pages[0]))
    assert "Rude words." in own
    assert "Be kind." in own
    assert "Ruder words." not in own
    assert "talk__count" not in client.get(f"/p/{hook.slug}/").content.decode()
    assert "Nothing new" in words(alice.get(reverse("procedures:news")))
    with pytest.raises(actions.Refused):
        actions.fold(answer=answer, by=alice.user)


# -- folding -----------------------------------------------------------------------------------------


def test_answer_is_folded_into_the_note_with_credit_and_undone_in_one_go(alice):
    hook = published()
    question = asked(hook)
    answer = answered(question)
    assert alice.post(at("fold_answer", hook, answer.pk)).status_code == 302
    assert note_of(hook) == f"Turn it **often**.\n\nBright **orange**.\n\n*bob, answer {answer.pk}*"
    assert "bob: answers" in hook.document["credits"]
    page = at("question", hook, question.pk)
    assert "In your draft." in words(alice.get(page))
    again = alice.post(at("fold_answer", hook, answer.pk), follow=True)
    assert "in your draft already" in words(again)
    actions.undo(procedure=hook, by=alice.user)
    assert note_of(hook) == "Turn it **often**."
    assert "credits" not in hook.document
    assert "In your draft." not in words(alice.get(page))


def test_question_shows_which_revision_has_the_answer(alice, client):
    hook = published()
    question = asked(hook)
    folded, undone = answered(question), answered(question, "Any heat.")
    actions.fold(answer=undone, by=alice.user)
    actions.undo(procedure=hook, by=alice.user)
    actions.fold(answer=folded, by=alice.user)
    actions.publish(procedure=hook, by=alice.user)
    text = words(client.get(at("question", hook, question.pk)))
    assert text.count("Taken into revision 2") == 1
    undone.refresh_from_db()
    assert undone.taken_into is None
    assert "Bright" in words(client.get(f"/p/{hook.slug}/"))


def test_answer_is_not_folded_into_a_step_that_is_gone(alice):
    hook = published()
    answer = answered(asked(hook))
    actions.delete_step(procedure=hook, part="bar", step="s2", by=alice.user)
    response = alice.post(at("fold_answer", hook, answer.pk), follow=True)
    assert "There is no step" in words(response)
    answer.refresh_from_db()
    assert answer.folded is None


def test_others_do_not_fold(charlie):
    hook = published()
    answer = answered(asked(hook))
    assert charlie.post(at("fold_answer", hook, answer.pk)).status_code == 404
    assert note_of(hook) == "Turn it **often**."


def test_question_on_a_step_that_went_says_what_the_step_was(client, alice):
    hook = published()
    question = asked(hook)
    actions.delete_step(procedure=hook, part="bar", step="s2", by=alice.user)
    actions.publish(procedure=hook, by=alice.user)
    text = words(client.get(at("questions", hook)))
    assert "Step 2, Draw out (Bar), in revision 1; no longer there" in text
    assert "no such step any more" in words(client.get(at("question", hook, question.pk)))
    assert client.get(at("step_questions", hook, "bar", "s2")).status_code == 200


# -- many --------------------------------------------------------------------------------------------


def test_ten_thousand_questions_are_paged_and_read_in_as_many_queries(client, django_assert_max_num_queries):
    hook, asker = published(a_hook(title="Asked about")), person("charlie")
    Question.objects.bulk_create(
        Question(
            procedure=hook,
            revision=hook.latest,
            part="bar",
            step="s2",
            step_was="Step 2",
            words=f"Question {n}.",
            by=asker,
        )
        for n in range(10_000)
    )
    for page in (at("questions", hook), at("step_questions", hook, "bar", "s2")):
        with django_assert_max_num_queries(8):
            response = client.get(page)
        assert response.content.decode().count('id="question-') == 20
    assert "1 of 500" in words(response)
    client.get(f"/p/{hook.slug}/")
    with django_assert_max_num_queries(12):
        html = client.get(f"/p/{hook.slug}/").content.decode()
    assert '<span class="talk__count">10000</span>' in html


def test_thread_is_read_in_as_many_queries_however_long(client, django_assert_max_num_queries):
    question = asked(published())
    for number in range(60):
        answered(question, f"Answer {number}.")
    with django_assert_max_num_queries(9):
        html = client.get(question.get_absolute_url()).content.decode()
    assert html.count('id="answer-') == 20


def test_who_talks_without_end_is_told_to_wait(charlie, settings):
    settings.ACCOUNT_RATE_LIMITS = {**settings.ACCOUNT_RATE_LIMITS, "talk": "2/h/user"}
    hook = published()
    page = at("ask", hook, "bar", "s2")
    statuses = [charlie.post(page, {"words": f"{number}?"}).status_code for number in range(3)]
    assert statuses == [302, 302, 429]
    assert Question.objects.count() == 2
