"""Classes: opened for what stands still, joined by a code, watched by their teacher alone."""

from datetime import date, timedelta
from uuid import uuid4

import pytest
from django.core.management import call_command
from django.urls import reverse
from django.utils import timezone

from procedures import actions
from procedures.models import Course, Guild, Procedure, Run, RunEntry
from tests.printing.reading import pdf_of, text_of

from .authoring import words
from .showing import a_draft, a_hook, person, published, retitled, taught
from .test_runs import an_entry, send

pytestmark = pytest.mark.django_db
HTMX = {"HX-Request": "true"}


@pytest.fixture
def course():
    return actions.open_course(procedure=published(), title="Tuesday", by=person("alice"))


def test_a_teacher_opens_a_class_and_gets_a_code(charlie):
    hook = published()
    response = charlie.post(f"/p/{hook.slug}/teach/", {"title": "Tuesday"})
    course = Course.objects.get()
    assert response.url == f"/classes/{course.pk}/"
    html = charlie.get(response.url).content.decode()
    assert course.code in html
    assert len(course.code) == 6
    assert "Nobody has joined yet" in html


def test_a_class_needs_a_name_and_something_published(alice):
    hook, draft = published(), a_draft()
    assert alice.post(f"/p/{hook.slug}/teach/", {"title": " "}).status_code == 422
    answer = alice.post(f"/p/{draft.slug}/teach/", {"title": "Tuesday"})
    assert "Publish the procedure first" in answer.content.decode()
    assert Course.objects.count() == 0


def test_who_is_not_signed_in_signs_in_first(client):
    hook = published()
    assert client.get(f"/p/{hook.slug}/teach/").url.startswith("/accounts/login/")


def test_a_class_stays_at_its_revision(client, course):
    retitled(taught(course), "A better hook")
    actions.publish(procedure=taught(course), by=taught(course).owner)
    html = client.get("/join/", {"code": course.code}).content.decode()
    assert "revision 1" in html
    assert f"/shop/{taught(course).slug}/1/metric/scale/" in html


@pytest.mark.parametrize("code", ["", "AAAAAA", "x", "é" * 6, "'; drop", "A" * 30])
def test_a_code_of_no_class_is_told_beside_its_field(client, code):
    response = client.get("/join/", {"code": code})
    assert response.status_code == 422
    assert "aria-invalid" in response.content.decode()


def test_a_code_is_read_however_it_is_typed(client, course):
    spaced = f" {course.code[:3].lower()} {course.code[3:].lower()} "
    assert "Take part" in client.get("/join/", {"code": spaced}).content.decode()


def test_a_class_that_ended_is_joined_by_nobody(client, alice, course):
    alice.post(f"/classes/{course.pk}/end/")
    assert "has ended" in client.get("/join/", {"code": course.code}).content.decode()
    assert course.code not in alice.get(f"/classes/{course.pk}/").content.decode()


def test_board_says_who_is_where_and_whose_measure_is_off(client, alice, course):
    send(
        client,
        uuid4(),
        taught(course),
        an_entry(1, "at"),
        an_entry(2),
        an_entry(3),
        an_entry(4, "heat_undone"),
        an_entry(5, "measured", what="run", branch="bar", length="150", section=""),
        an_entry(6, "chip", text="Short"),
        code=course.code,
        name="Kim <3",
    )
    send(client, uuid4(), taught(course), an_entry(1, "at", step="s1", number=1), code=course.code, name="Jo")
    html = alice.get(f"/classes/{course.pk}/").content.decode()
    assert "Kim &lt;3" in html
    assert "Step 2, Draw out" in html
    assert "Step 1, Mark out" in html
    assert "1 heat," in html
    assert "Step 2: 150" in html
    assert "Short" in html


def test_a_measure_as_planned_is_not_off(client, alice, course):
    fine = an_entry(1, "measured", what="run", branch="bar", length="160.5", section="12 sq")
    strange = an_entry(2, "measured", what="whole", branch="bar", length="about 3")
    send(client, uuid4(), taught(course), fine, code=course.code)
    assert "Off:" not in alice.get(f"/classes/{course.pk}/").content.decode()
    send(client, uuid4(), taught(course), strange, code=course.code)
    assert "does not read" in alice.get(f"/classes/{course.pk}/").content.decode()


def test_a_gate_is_signed_once_and_the_phone_hears_of_it(client, alice, course):
    run = uuid4()
    send(client, run, taught(course), an_entry(1, "gate_asked"), code=course.code, name="Kim")
    assert "Waits at the gate" in alice.get(f"/classes/{course.pk}/", headers=HTMX).content.decode()
    given = {"run": str(run), "part": "bar", "step": "s2"}
    for _ in range(2):
        html = alice.post(f"/classes/{course.pk}/gate/", given, headers=HTMX).content.decode()
        assert "Waits at the gate" not in html
    assert RunEntry.objects.filter(kind="gate").count() == 1
    answer = send(client, run, taught(course), code=course.code)
    assert answer.json()["signed"] == [{"part": "bar", "step": "s2", "by": "alice"}]


@pytest.mark.parametrize("given", [{}, {"run": "7"}, {"run": str(uuid4()), "part": "bar", "step": "s2"}])
def test_a_gate_that_is_not_there_is_said(alice, course, given):
    html = alice.post(f"/classes/{course.pk}/gate/", given, follow=True).content.decode()
    assert "no longer there" in html


def test_board_is_the_teachers_alone(client, charlie, course):
    for address in (f"/classes/{course.pk}/", f"/classes/{course.pk}/delete/"):
        assert charlie.get(address).status_code == 404
        assert client.get(address).status_code == 302
    for action in ("gate", "end", "delete"):
        assert charlie.post(f"/classes/{course.pk}/{action}/").status_code == 404
    assert Course.objects.filter(ended=None).count() == 1


def test_list_holds_own_classes_and_runs(client, alice, charlie, course):
    send(alice, uuid4(), taught(course), an_entry(1), account=True)
    html = alice.get("/runs/").content.decode()
    assert "Tuesday" in html
    assert "A hook" in html
    assert "Tuesday" not in charlie.get("/runs/").content.decode()


def test_board_costs_the_same_queries_however_many_take_part(
    client, alice, course, django_assert_max_num_queries
):
    for _ in range(12):
        send(client, uuid4(), taught(course), an_entry(1), code=course.code)
    with django_assert_max_num_queries(8):
        alice.get(f"/classes/{course.pk}/", headers=HTMX)


# -- several procedures, dates, days -----------------------------------------------------------------


@pytest.fixture
def two(course):
    """The class with a second procedure."""
    actions.assign(course=course, procedure=published(a_hook(title="A ring")), by=course.teacher)
    return course


def plan(course, name="course_plan", *more):
    return reverse(f"procedures:{name}", args=[course.pk, *more])


def assigned_titles(course):
    return [one.revision.title for one in course.assignments.all()]


def test_a_second_procedure_is_given_to_the_same_class(alice, course):
    ring = published(a_hook(title="A ring"))
    address = f"/p/{ring.slug}/teach/"
    assert "A new one" in words(alice.get(address))
    assert alice.post(address, {"course": str(course.pk), "title": ""}).url == course.get_absolute_url()
    assert assigned_titles(course) == ["A hook", "A ring"]
    again = alice.post(address, {"course": str(course.pk)})
    assert (again.status_code, "works by it already" in words(again)) == (422, True)
    assert assigned_titles(course) == ["A hook", "A ring"]


def test_a_class_of_somebody_else_gets_nothing(charlie, course):
    ring = published(a_hook(title="A ring"))
    answer = charlie.post(f"/p/{ring.slug}/teach/", {"course": str(course.pk), "title": "Mine"})
    assert answer.status_code in (302, 422)
    assert assigned_titles(course) == ["A hook"]


def test_who_joins_chooses_what_to_work_by_and_sees_the_dates(client, two):
    ring = two.assignments.last()
    actions.set_dates(assignment=ring, begins=None, due=date(2027, 3, 9), by=two.teacher)
    actions.add_day(course=two, day=date(2027, 3, 2), words="Rings", by=two.teacher)
    page = words(client.get("/join/", {"code": two.code}))
    for told in ("A hook", "A ring", "due 9 March", "Rings", "Tuesday 2 March"):
        assert told in page
    chosen = client.get("/join/", {"code": two.code, "p": ring.procedure.slug}).content.decode()
    assert f"/shop/{ring.procedure.slug}/1/metric/scale/" in chosen
    assert "due 9 March 2027" in chosen


def test_teacher_sees_how_far_each_student_is_in_each_procedure(client, alice, two):
    hook, ring = (one.procedure for one in two.assignments.all())
    send(client, uuid4(), hook, an_entry(1, "done"), code=two.code, name="Kim")
    send(client, uuid4(), ring, an_entry(1, "at"), code=two.code, name="kim")
    send(client, uuid4(), hook, an_entry(1, "at"), code=two.code, name="Jo")
    page = alice.get(two.get_absolute_url()).content.decode()
    table = page[page.index("<table") : page.index("</table>")]
    assert table.count("Kim") == 1
    assert "Not begun" in table  # Jo, at the ring
    assert "Done" in table
    assert "Step 2, Draw out" in table


def test_board_of_several_costs_the_same_queries(client, alice, two, django_assert_max_num_queries):
    hook, ring = (one.procedure for one in two.assignments.all())
    for one in (hook, ring) * 5:
        send(client, uuid4(), one, an_entry(1), code=two.code)
    with django_assert_max_num_queries(8):
        alice.get(two.get_absolute_url(), headers=HTMX)


def test_dates_order_and_days_are_set(alice, two):
    ring = two.assignments.last()
    alice.post(plan(two, "assigned", ring.pk), {"dates": "1", "begins": "2027-03-02", "due": "2027-03-09"})
    ring.refresh_from_db()
    assert (ring.begins, ring.due) == (date(2027, 3, 2), date(2027, 3, 9))
    alice.post(plan(two, "assigned", ring.pk), {"up": "1"})
    assert assigned_titles(two) == ["A ring", "A hook"]
    alice.post(plan(two, "course_days"), {"day": "2027-03-02", "words": "Rings"})
    page = words(alice.get(plan(two)))
    assert "Tuesday 2 March 2027: Rings" in page
    alice.post(plan(two, "course_days"), {"drop": str(two.days.get().pk)})
    assert not two.days.exists()


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"dates": "1", "begins": "2027-03-09", "due": "2027-03-02"}, "cannot be due before it is set"),
        ({"dates": "1", "begins": "soon"}, "A date is a day"),
    ],
)
def test_dates_that_cannot_be_are_told_beside_their_field(alice, two, given, said):
    answer = alice.post(plan(two, "assigned", two.assignments.first().pk), given)
    assert answer.status_code == 422
    assert said in words(answer)
    assert 'aria-invalid="true"' in answer.content.decode()


def test_what_somebody_has_begun_stays_and_stays_as_it_is(client, alice, two):
    hook = two.assignments.first()
    retitled(hook.procedure, "A better hook")
    actions.publish(procedure=hook.procedure, by=hook.procedure.owner)
    assert "Use revision 2" in words(alice.get(plan(two)))
    send(client, uuid4(), hook.procedure, an_entry(1), code=two.code, name="Kim")
    for given in ({"latest": "1"}, {"remove": "1"}):
        answer = alice.post(plan(two, "assigned", hook.pk), given, follow=True)
        assert "1 has begun it." in words(answer)
    assert assigned_titles(two) == ["A hook", "A ring"]


def test_the_latest_is_taken_and_one_taken_out_while_nobody_has_begun(alice, two):
    hook, ring = two.assignments.all()
    retitled(hook.procedure, "A better hook")
    actions.publish(procedure=hook.procedure, by=hook.procedure.owner)
    alice.post(plan(two, "assigned", hook.pk), {"latest": "1"})
    assert assigned_titles(two) == ["A better hook", "A ring"]
    alice.post(plan(two, "assigned", ring.pk), {"remove": "1"})
    answer = alice.post(plan(two, "assigned", hook.pk), {"remove": "1"}, follow=True)
    assert "It is the only one" in words(answer)
    assert assigned_titles(two) == ["A better hook"]


def test_handout_holds_what_is_assigned_as_it_was_frozen(alice, two):
    retitled(taught_first(two), "A better hook")
    actions.publish(procedure=taught_first(two), by=two.teacher)
    text = text_of(pdf_of(alice.get(plan(two, "course_handout"))))
    assert "A ring" in text
    assert "A hook" in text
    assert "A better hook" not in text


def taught_first(course):
    return course.assignments.first().procedure


def test_plan_is_the_teachers_alone(client, charlie, two):
    hook = two.assignments.first()
    for address in (plan(two), plan(two, "course_handout")):
        assert charlie.get(address).status_code == 404
        assert client.get(address).status_code == 302
    for address in (plan(two, "assigned", hook.pk), plan(two, "course_days"), plan(two, "forget_course")):
        assert charlie.post(address, {"remove": "1", "days": "0"}).status_code == 404
    assert assigned_titles(two) == ["A hook", "A ring"]


def test_only_what_students_can_read_is_taught(alice):
    guild = Guild.objects.create(name="The Anvil", slug="the-anvil")
    hook = published()
    Procedure.objects.filter(pk=hook.pk).update(status="guild", guild=guild)
    answer = alice.post(f"/p/{hook.slug}/teach/", {"title": "Tuesday"})
    assert "students have no account" in words(answer)
    assert Course.objects.count() == 0


# -- forgotten ---------------------------------------------------------------------------------------


def test_a_class_is_forgotten_so_many_days_after_its_end(client, alice, course):
    send(client, uuid4(), taught(course), an_entry(1), code=course.code, name="Kim")
    answer = alice.post(plan(course, "forget_course"), {"days": "-1"})
    assert answer.status_code == 422
    alice.post(plan(course, "forget_course"), {"days": "30"})
    actions.end_course(course=course, by=course.teacher)
    end = timezone.now()
    assert actions.forget_courses(now=end + timedelta(days=29)) == 0
    assert Run.objects.count() == 1
    assert actions.forget_courses(now=end + timedelta(days=30, minutes=1)) == 1
    assert (Course.objects.count(), Run.objects.count(), RunEntry.objects.count()) == (0, 0, 0)
    assert Procedure.objects.exists()


def test_a_class_that_nobody_ends_is_over_after_half_a_year_of_silence(client, course):
    send(client, uuid4(), taught(course), an_entry(1), code=course.code, name="Kim")
    now = timezone.now()
    later = now + timedelta(days=181)
    assert actions.forget_courses(now=now + timedelta(days=100)) == 0
    actions.add_day(course=course, day=later.date(), words="", by=course.teacher)
    assert actions.forget_courses(now=later) == 0
    assert Course.objects.get().ended is None  # it is to meet yet
    course.days.all().delete()
    actions.forget_courses(now=later)
    assert Course.objects.get().ended is not None
    call_command("forget_classes", verbosity=0)
    assert Course.objects.count() == 1
    actions.forget_courses(now=later + timedelta(days=91))
    assert Course.objects.count() == 0


def test_students_see_nothing_of_one_another(client, course):
    send(client, uuid4(), taught(course), an_entry(1), code=course.code, name="Kim")
    assert "Kim" not in client.get("/join/", {"code": course.code}).content.decode()
