"""Classes: opened for what stands still, joined by a code, watched by their teacher alone."""

from uuid import uuid4

import pytest

from procedures import actions
from procedures.models import Course, RunEntry

from .showing import a_draft, person, published, retitled
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
    retitled(course.procedure, "A better hook")
    actions.publish(procedure=course.procedure, by=course.procedure.owner)
    html = client.get("/join/", {"code": course.code}).content.decode()
    assert "revision 1" in html
    assert f"/shop/{course.procedure.slug}/1/metric/scale/" in html


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
        course.procedure,
        an_entry(1, "at"),
        an_entry(2),
        an_entry(3),
        an_entry(4, "heat_undone"),
        an_entry(5, "measured", what="run", branch="bar", length="150", section=""),
        an_entry(6, "chip", text="Short"),
        code=course.code,
        name="Kim <3",
    )
    send(
        client, uuid4(), course.procedure, an_entry(1, "at", step="s1", number=1), code=course.code, name="Jo"
    )
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
    send(client, uuid4(), course.procedure, fine, code=course.code)
    assert "Off:" not in alice.get(f"/classes/{course.pk}/").content.decode()
    send(client, uuid4(), course.procedure, strange, code=course.code)
    assert "does not read" in alice.get(f"/classes/{course.pk}/").content.decode()


def test_a_gate_is_signed_once_and_the_phone_hears_of_it(client, alice, course):
    run = uuid4()
    send(client, run, course.procedure, an_entry(1, "gate_asked"), code=course.code, name="Kim")
    assert "Waits at the gate" in alice.get(f"/classes/{course.pk}/", headers=HTMX).content.decode()
    given = {"run": str(run), "part": "bar", "step": "s2"}
    for _ in range(2):
        html = alice.post(f"/classes/{course.pk}/gate/", given, headers=HTMX).content.decode()
        assert "Waits at the gate" not in html
    assert RunEntry.objects.filter(kind="gate").count() == 1
    answer = send(client, run, course.procedure, code=course.code)
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
    send(alice, uuid4(), course.procedure, an_entry(1), account=True)
    html = alice.get("/runs/").content.decode()
    assert "Tuesday" in html
    assert "A hook" in html
    assert "Tuesday" not in charlie.get("/runs/").content.decode()


def test_board_costs_the_same_queries_however_many_take_part(
    client, alice, course, django_assert_max_num_queries
):
    for _ in range(12):
        send(client, uuid4(), course.procedure, an_entry(1), code=course.code)
    with django_assert_max_num_queries(8):
        alice.get(f"/classes/{course.pk}/", headers=HTMX)
