"""Who may see and change what: every address, whatever there is, for everybody.

Each address that names something has an entry in one of the tables; one that has none fails the first test.
Alice owns all there is and is a member of the guild; kate keeps it, ed edits for it, mia reads in it. Tom
teaches a class, a student has its code, sam is signed in, mona looks after the site, a stranger is not.
"""

from __future__ import annotations

import io
from dataclasses import dataclass, field
from datetime import date
from typing import Any
from urllib.parse import urlsplit
from uuid import uuid4

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from PIL import Image

from procedures import actions, photos
from procedures.models import Answer, Guild, Membership, Procedure, Question, Result, ResultPhoto, Run
from procedures.queries.care import described
from tests.meta.test_access import pages

from .conftest import at_the_browser
from .showing import a_draft, a_hook, person
from .test_runs import an_entry, send

pytestmark = pytest.mark.django_db

NOBODY = {"stranger", "student"}  # not signed in
GUILD = {"member", "editor", "keeper", "owner"}
ROLES = ("stranger", "student", "signed_in", "teacher", "member", "editor", "keeper", "owner", "moderator")
ALL = set(ROLES)
NAMES = {
    "signed_in": "sam",
    "teacher": "tom",
    "member": "mia",
    "editor": "ed",
    "keeper": "kate",
    "owner": "alice",
    "moderator": "mona",
}
SECRET = "Zwiesel"  # stands in the title of all that is not public

OK, MISSING, STONE, LOGIN = "ok", "missing", "stone", "login"


# -- what there is, and who may read it --------------------------------------------------------------


@dataclass(frozen=True)
class State:
    """A procedure: who reads it, who finds a stone, who works at it and who manages it."""

    readers: frozenset[str]
    stone: frozenset[str] = frozenset()
    works: frozenset[str] = frozenset({"owner", "editor", "keeper"})
    manages: frozenset[str] = frozenset({"owner", "keeper"})
    has_revision: bool = True
    is_published: bool = True


WORK = frozenset({"owner", "editor", "keeper"})
OWNER = frozenset({"owner"})
LOOKS_AFTER = frozenset({"moderator"})
STATES = {
    "draft": State(OWNER, works=OWNER, manages=OWNER, has_revision=False, is_published=False),
    "draft_on_shelf": State(WORK, has_revision=False, is_published=False),
    "guild": State(frozenset(GUILD)),
    "guild_off_shelf": State(frozenset(GUILD), works=OWNER, manages=OWNER),
    "unlisted": State(frozenset(ALL)),
    "public": State(frozenset(ALL)),
    "withdrawn": State(WORK, stone=frozenset(ALL - WORK), is_published=False),
    "withdrawn_from_guild": State(WORK, stone=frozenset({"member"}), is_published=False),
    "hidden": State(WORK | LOOKS_AFTER, stone=frozenset(ALL - WORK - LOOKS_AFTER), is_published=False),
}


def made(state: str, guild: Guild) -> Procedure:
    """A procedure in this state."""
    title = (
        "A public hook"
        if state in ("public", "withdrawn", "hidden")
        else f"{SECRET} {state.replace('_', ' ')}"
    )
    procedure = a_draft(a_hook(title=title))
    with_photo(procedure)
    if state not in ("draft", "guild_off_shelf"):
        actions.put_on_shelf(procedure=procedure, guild=guild, by=procedure.owner)
    if STATES[state].has_revision:
        status = {
            "withdrawn": "public",
            "hidden": "public",
            "withdrawn_from_guild": "guild",
            "guild_off_shelf": "guild",
        }.get(state, state)
        actions.publish(procedure=procedure, status=status, guild=guild, by=procedure.owner)
        procedure.refresh_from_db()
        said_of(procedure)
    if state.startswith("withdrawn"):
        actions.unpublish(procedure=procedure, reason="It tears.", by=procedure.owner)
    if state == "hidden":
        actions.name_moderator(person=person("mona"), by=None)
        actions.hide(thing=described(procedure), reason="It tears.", by=person("mona"))
    procedure.refresh_from_db()
    return procedure


def with_photo(procedure: Procedure) -> None:
    """A photo at a step."""
    words = {"alt": "Drawn", "caption": ""}
    by = procedure.owner
    actions.attach_photo(procedure=procedure, part="bar", step="s2", prepared=a_picture(), by=by, **words)


def a_picture() -> photos.Prepared:
    held = io.BytesIO()
    Image.new("RGB", (500, 250), "firebrick").save(held, "JPEG")
    return photos.prepare(SimpleUploadedFile("hook.jpg", held.getvalue(), content_type="image/jpeg"))


def said_of(procedure: Procedure) -> None:
    """A question with an answer, and a result with a photo, all by its owner."""
    by = procedure.owner
    question = actions.ask(revision=procedure.latest, part="bar", step="s2", words="Why?", by=by)
    actions.answer(question=question, words="So.", by=by)
    result = Result.objects.create(
        procedure=procedure, revision=procedure.latest, by=by, forged=date(2027, 3, 9), words="It held."
    )
    actions.attach_result_photo(result=result, prepared=a_picture(), alt="The hook", by=by)


@dataclass
class World:
    """Everything there is, and everybody at their browsers."""

    guild: Guild
    procedures: dict[str, Procedure] = field(default_factory=dict)
    clients: dict[str, Client] = field(default_factory=dict)

    def __getitem__(self, state: str) -> Procedure:
        return self.procedures[state]


@pytest.fixture
def world(settings, tmp_path, db) -> World:
    settings.MEDIA_ROOT = tmp_path
    guild = actions.found_guild(name="The Anvil", by=person("kate"))
    for name, role in (("alice", "member"), ("ed", "editor"), ("mia", "member")):
        Membership.objects.create(guild=guild, user=person(name), role=role)
    found = World(guild)
    found.procedures = {state: made(state, guild) for state in STATES}
    found.clients = {role: at_the_browser(NAMES[role]) if role in NAMES else Client() for role in ROLES}
    course = actions.open_course(procedure=found["public"], title="Tuesday", by=person("tom"))
    assert found.clients["student"].get("/join/", {"code": course.code}).status_code == 200
    return found


# -- the addresses -----------------------------------------------------------------------------------


@dataclass(frozen=True)
class Page:
    """One address of a procedure: who may ask for it, and by what else it is named.

    `signs_in` is "first" where who is not signed in is sent to do so whatever there is, "then" where it must
    be readable for that. `needs` is "revision", "published" or "public" where others have none of it,
    "adaptation" where only an adaptation has it, "question" where it answers nothing without one.
    """

    who: str
    more: dict[str, Any] = field(default_factory=dict)
    signs_in: str = ""
    needs: str = ""

    def expects(self, state: State, role: str) -> str:
        """What this role gets of a procedure in this state."""
        if self.who in ("works", "manages"):
            if role in NOBODY:
                return LOGIN
            if role not in getattr(state, self.who):
                return MISSING
        else:
            if self.signs_in == "first" and role in NOBODY:
                return LOGIN
            if role not in state.readers:
                return STONE if role in state.stone else MISSING
            if self.signs_in == "then" and role in NOBODY:
                return LOGIN
            if self.who == "writer" and role != "owner":
                return MISSING
        lacks = {
            "revision": not state.has_revision,
            "published": not state.is_published,
            "adaptation": True,
            "question": True,
            "public": state is not STATES["public"],
        }
        return MISSING if lacks.get(self.needs) else OK


def read(**more: Any) -> Page:
    return Page("reads", more)


def of_revision(**more: Any) -> Page:
    return Page("reads", more, needs="revision")


def work(**more: Any) -> Page:
    return Page("works", more)


def said(who: str = "reads", **more: Any) -> Page:
    return Page(who, more, signs_in="first", needs="revision")


PART = {"part": "bar"}
STEP = {"part": "bar", "step": "s2"}
NUMBERED = {"part": "bar", "number": 2}
PATTERN = {"part": "bar", "pattern": "strip"}
SHOP = {"revision": 1, "units": "metric", "view": "scale"}
PROCEDURE = {
    # reading
    "read": read(),
    "drawings": read(part="bar", number=1),
    "follow_start": read(),
    "follow": read(**NUMBERED),
    "measured": read(**PART),
    "solid_glb": read(**NUMBERED),
    "solid_stl": read(**NUMBERED),
    "stages": read(**PART),
    "stage": read(**NUMBERED),
    "print": read(),
    "card": read(),
    "full_size": read(),
    "full_size_pdf": read(),
    "full_size_svg": read(**PATTERN),
    "full_size_dxf": read(**PATTERN),
    "document": read(),
    "package": read(),
    "photo": read(digest="PHOTO", width=480),
    # planning
    "stock": read(),
    "stock_strip": Page("reads", needs="question"),
    "apply_stock": work(),
    "cutting_list": read(),
    "cutting_list_csv": read(),
    "heats": read(),
    "timetable": read(),
    "timetable_print": read(),
    "timetable_csv": read(),
    "timetable_calendar": read(),
    "cost": read(),
    "cost_print": read(),
    "cost_csv": read(),
    # sharing
    "revisions": read(),
    "compare": read(),
    "revision": of_revision(number=1),
    "bibtex": of_revision(number=1),
    "csl": of_revision(number=1),
    "figures": of_revision(number=1),
    "withdraw": Page("manages", {"number": 1}, needs="revision"),
    "collect": Page("reads", signs_in="then", needs="published"),
    "procedure_feed": Page("reads", needs="public"),
    "adapt": Page("reads", signs_in="then", needs="revision"),
    "original": Page("works", needs="adaptation"),
    "offer_back": Page("works", needs="adaptation"),
    "offers": work(),
    # authoring
    "settings": Page("manages"),
    "publish": Page("manages"),
    "unpublish": Page("manages"),
    "delete": Page("manages"),
    "take_off_shelf": Page("manages"),
    "edit": work(),
    "undo": work(),
    "redo": work(),
    "add_part": work(),
    "edit_part": work(**PART),
    "piece": work(**PART),
    "delete_part": work(**PART),
    "insert_step": work(**PART),
    "edit_step": work(**STEP),
    "move_step": work(**STEP),
    "duplicate_step": work(**STEP),
    "delete_step": work(**STEP),
    "silence": work(**STEP),
    "drawing": work(**STEP),
    "add_photo": work(**STEP),
    "edit_photo": work(**STEP, digest="PHOTO"),
    "mark_photo": work(**STEP, digest="PHOTO"),
    # the record of an original
    "record": work(),
    "record_print": read(),
    "new_measurement": work(),
    "measurement": Page("works", {"key": "none"}, needs="question"),
    "new_source": work(),
    "record_source": Page("works", {"key": "none"}, needs="question"),
    # the forge
    "open_course": Page("reads", signs_in="then"),
    "shop": Page("reads", SHOP, needs="published"),
    "to_keep": Page("reads", SHOP, needs="published"),
    # talk
    "questions": read(),
    "close_questions": Page("manages"),
    "step_questions": of_revision(**STEP),
    "ask": Page("reads", STEP, signs_in="first"),
    "question": of_revision(question=0),
    "edit_question": said("writer", question=0),
    "delete_question": said("writer", question=0),
    "answer": said(question=0),
    "edit_answer": said("writer", answer=0),
    "delete_answer": said("writer", answer=0),
    "accept_answer": said(answer=0),
    "fold_answer": Page("works", {"answer": 0}),
    "thank_answer": said(answer=0),
    "thank": Page("reads", signs_in="first"),
    "results": read(),
    "report_result": said(),
    "result": of_revision(result=0),
    "edit_result": said("writer", result=0),
    "delete_result": said("writer", result=0),
    "thank_result": said(result=0),
    "add_result_photo": said(result=0),
    "delete_result_photo": said(result=0, photo=0),
    "result_photo": of_revision(result=0, photo=0, width=480),
}
# Of a guild: who gets each page, of one that is listed; of one that is not, strangers see no page at all.
GUILDS = {
    "guild": ALL,
    "guild_feed": ALL,
    "ask_to_join": ALL - NOBODY,
    "guild_members": GUILD,
    "guild_package": GUILD,
    "put_on_shelf": GUILD,
    "leave_guild": GUILD,
    "guild_profile": {"keeper"},
    "guild_tools": {"keeper"},
    "delete_guild": {"keeper"},
    "invite": {"keeper"},
    "change_member": {"keeper"},
    "take_invitation_back": {"keeper"},
    "answer_request": {"keeper"},
}
# Of a class its teacher alone sees anything; who has the code takes part at /join/.
COURSES = {
    "course",
    "course_plan",
    "assigned",
    "course_days",
    "forget_course",
    "course_handout",
    "sign_gate",
    "end_course",
    "delete_course",
}
RUNS = {"run", "run_json", "delete_run", "report_run", "run_photo"}  # who made it, and the teacher
BY_KEY = {
    "take_in_run",
    "take_in_photo",
    "forget_run",
}  # who has the run's key: tests/integration/test_runs.py
BY_CODE = {"cited"}
THINGS = {"slug", "code", "guild", "course", "run"}


def test_every_address_that_names_something_is_in_a_table():
    named = {one.name for one in pages() if THINGS & set(one.pattern.converters)}
    tables = set(PROCEDURE) | set(GUILDS) | COURSES | RUNS | BY_KEY | BY_CODE
    assert named - tables == set(), "give the address an entry: who may see it?"
    assert tables - named == set(), "there is no such address any more"


def test_every_way_in_is_swept():
    """A check that no table knows would let in whom no test looks for."""
    known = {
        "procedure_reader",
        "procedure_editor",
        "procedure_manager",
        "signed_in",
        "code_reader",
        "guild_reader",
        "guild_member",
        "guild_keeper",
        "course_teacher",
        "run_reader",
        "anyone",
    }
    ways = {one.callback.access for one in pages() if THINGS & set(one.pattern.converters)}
    assert ways - known == set()


# -- asking ------------------------------------------------------------------------------------------


def address(world: World, name: str, procedure: Procedure) -> str:
    more = dict(PROCEDURE[name].more)
    if "digest" in more:
        more["digest"] = procedure.photos.get().digest
    for key, kind in (("question", Question), ("result", Result)):
        if key in more:
            found = kind.objects.filter(procedure=procedure).first()
            more[key] = found.pk if found else 999
    if "answer" in more:
        found = Answer.objects.filter(question__procedure=procedure).first()
        more["answer"] = found.pk if found else 999
    if "photo" in more:
        found = ResultPhoto.objects.filter(result__procedure=procedure).first()
        more["photo"] = found.pk if found else 999
    return reverse(f"procedures:{name}", kwargs={"slug": procedure.slug, **more})


def outcome(response: Any) -> str:
    """What an answer comes to; a page that wants another method is one that may be asked for."""
    if response.status_code == 302 and urlsplit(response.url).path == "/accounts/login/":
        return LOGIN
    assert response.status_code < 500
    return {404: MISSING, 410: STONE}.get(response.status_code, OK)


def shown(response: Any) -> bytes:
    return b"".join(response.streaming_content) if response.streaming else response.content


# Who differs from nobody else here is asked for once: elsewhere than in a class, tom and a student are like
# sam and a stranger; what costs much to make is made once a procedure.
ASKED = {
    "draft": ALL,
    "draft_on_shelf": {"stranger", "signed_in", "member", "editor", "keeper", "owner"},
    "guild": ALL,
    "guild_feed": ALL,
    "guild_off_shelf": {"signed_in", "member", "editor", "keeper", "owner"},
    "unlisted": {"stranger", "student", "editor", "owner"},
    "public": {"stranger", "student", "teacher", "keeper", "owner"},
    "withdrawn": {"stranger", "student", "teacher", "member", "editor", "owner"},
    "withdrawn_from_guild": {"stranger", "signed_in", "member", "keeper", "owner"},
    "hidden": {"stranger", "signed_in", "keeper", "owner", "moderator"},
}
COSTLY = {
    "card",
    "full_size",
    "full_size_pdf",
    "stock",
    "stock_strip",
    "solid_glb",
    "solid_stl",
    "package",
    "compare",
}
COSTLY |= {
    "timetable",
    "timetable_print",
    "timetable_csv",
    "timetable_calendar",
    "heats",
    "cutting_list",
    "record_print",
}
COSTLY |= {"cost", "cost_print", "cost_csv"}


@pytest.mark.parametrize("state", STATES)
def test_procedure(world, state):
    """Everybody gets of each address what the table says, and who gets nothing learns nothing of it."""
    kind, procedure = STATES[state], world[state]
    before = Procedure.objects.values().get(pk=procedure.pk)
    wrong = []
    for name, page in PROCEDURE.items():
        asked = address(world, name, procedure)
        is_made = False
        for role in (one for one in ROLES if one in ASKED[state]):
            expected = page.expects(kind, role)
            if expected == OK and name in COSTLY and is_made:
                continue
            is_made = is_made or expected == OK
            wrong += wrongs(f"{role} at {name}", world.clients[role], asked, page, expected)
    assert wrong == []
    assert Procedure.objects.values().get(pk=procedure.pk) == before


def wrongs(told: str, client: Client, asked: str, page: Page, expected: str) -> list[str]:
    """What is wrong with the answers to a get and, where they are to change nothing, to a post."""
    answer = client.get(asked)
    got = outcome(answer)
    # A page that takes a post alone may say so before it looks whose it is.
    is_told = answer.status_code == 405 and (page.who == "writer" or bool(page.needs))
    found = [] if got == expected or is_told else [f"{told}: {got}, not {expected}"]
    if SECRET.encode() in shown(answer) and expected in (MISSING, LOGIN):
        found.append(f"{told}: tells the title")
    if expected != OK and (page.who != "reads" or page.signs_in):
        posted = client.post(asked)
        if outcome(posted) != expected and posted.status_code != 405:
            found.append(f"{told}, posted: {outcome(posted)}, not {expected}")
    return found


def test_short_address_leads_where_its_reader_may_go(world):
    for state, kind in STATES.items():
        revision = world[state].revisions.first()
        if revision is None:
            continue
        for role, client in world.clients.items():
            expected = OK if role in kind.readers | kind.stone else MISSING
            answer = client.get(reverse("procedures:cited", args=[revision.code]))
            assert outcome(answer) == expected, f"{role}, {state}"


@pytest.mark.parametrize("listed", [True, False])
@pytest.mark.parametrize("name", GUILDS)
def test_guild(world, name, listed):
    Guild.objects.update(listed=listed)
    numbers = {"number": 1, "invitation": 1}
    route = next(one for one in pages() if one.name == name)
    more = {key: numbers[key] for key in route.pattern.converters if key in numbers}
    asked = reverse(f"procedures:{name}", kwargs={"guild": world.guild.slug, **more})
    for role, client in world.clients.items():
        sees = role in GUILDS[name] and (listed or role in GUILD)
        answer = client.get(asked)
        expected = OK if sees else LOGIN if role in NOBODY else MISSING
        told = shown(answer)
        assert outcome(answer) == expected, role
        if not sees:
            assert b"The Anvil" not in told
            assert outcome(client.post(asked)) == expected, role


@pytest.mark.parametrize("name", sorted(COURSES))
def test_class_is_its_teachers_alone(world, name):
    course = person("tom").courses.get()
    more = {"assignment": course.assignments.get().pk} if name == "assigned" else {}
    asked = reverse(f"procedures:{name}", kwargs={"course": course.pk, **more})
    for role, client in world.clients.items():
        expected = OK if role == "teacher" else LOGIN if role in NOBODY else MISSING
        assert outcome(client.get(asked)) == expected, role
        if expected != OK:
            assert outcome(client.post(asked)) == expected, role


@pytest.mark.parametrize("name", sorted(RUNS))
def test_run_is_its_makers_and_the_teachers(world, name):
    course = person("tom").courses.get()
    run = uuid4()
    send(
        world.clients["member"],
        run,
        world["public"],
        an_entry(1),
        code=course.code,
        account=True,
        name="Mia the student",
    )
    assert Run.objects.get().owner.username == "mia"
    more = {"entry": uuid4(), "width": 480} if name == "run_photo" else {}
    asked = reverse(f"procedures:{name}", kwargs={"run": run, **more})
    for role, client in world.clients.items():
        expected = OK if role in ("teacher", "member") else LOGIN if role in NOBODY else MISSING
        if name == "run_photo" and expected == OK:
            expected = MISSING  # there is none: test_run_photos.py has one
        answer = client.get(asked)
        assert outcome(answer) == expected, role
        if expected != OK:
            assert b"Mia the student" not in shown(answer)


# -- lists, feeds and searches -----------------------------------------------------------------------

PLAIN = [one.name for one in pages() if not one.pattern.converters]


@pytest.mark.parametrize("name", PLAIN)
def test_what_is_not_public_is_in_no_list(world, name):
    asked = reverse(f"procedures:{name}")
    for role in ("stranger", "student", "signed_in", "teacher"):
        for query in ("", f"?q={SECRET}"):
            answer = world.clients[role].get(asked + query)
            assert answer.status_code < 500
            told = (
                shown(answer).replace(f"q={SECRET}".encode(), b"").replace(f'value="{SECRET}"'.encode(), b"")
            )
            for state in STATES:
                assert f"{SECRET} {state.replace('_', ' ')}".encode() not in told, (
                    f"{role} at {name}: {state}"
                )
                if state != "public":
                    assert f"/p/{world[state].slug}/".encode() not in told, f"{role} at {name}: {state}"


def test_what_is_not_public_is_kept_from_search_engines(world):
    stranger = world.clients["stranger"]
    for name in ("read", "document", "card", "stages"):
        assert stranger.get(address(world, name, world["unlisted"]))["X-Robots-Tag"] == "noindex"
        assert "X-Robots-Tag" not in stranger.get(address(world, name, world["public"]))


@pytest.mark.parametrize("state", ["guild", "draft", "withdrawn_from_guild"])
def test_what_few_read_is_embedded_nowhere(world, state):
    for role in ("stranger", "owner"):
        asked = {"url": f"http://testserver{world[state].get_absolute_url()}"}
        assert world.clients[role].get(reverse("procedures:oembed"), asked).status_code == 404
