"""Following at the anvil: the screens in order, the place kept, no script needed."""

import json
import re

import pytest

from procedures.management.commands.load_demo import DEMO
from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out

from .showing import a_hook, published

pytestmark = pytest.mark.django_db


def screen(client, address: str) -> str:
    response = client.get(address)
    assert response.status_code == 200
    return response.content.decode()


def link(html: str, rel: str) -> str | None:
    found = re.search(rf'<a [^>]*rel="{rel}"[^>]*href="([^"]+)"', html)
    return found[1].replace("&amp;", "&") if found else None


def test_next_leads_through_every_screen_and_back_leads_home(client):
    procedure = published()
    start = client.get(f"/p/{procedure.slug}/follow/")
    assert start.status_code == 302
    visited = [start.url]
    while (following := link(screen(client, visited[-1]), "next")) != f"/p/{procedure.slug}/":
        visited.append(following)
    assert [one.rsplit("/", 2)[1] for one in visited] == ["0", "1", "2", "3"]
    back = visited[-1]
    while before := link(screen(client, back), "prev"):
        back = before
    assert back == visited[0]


def test_parts_follow_each_other(client):
    procedure = published(a_document(a_part(drawn_out()), a_part(drawn_out(on="pin"), key="pin")))
    address = f"/p/{procedure.slug}/follow/bar/2/"
    assert link(screen(client, address), "next") == f"/p/{procedure.slug}/follow/pin/0/"
    assert link(screen(client, f"/p/{procedure.slug}/follow/pin/0/"), "prev") == address


def test_step_screen_says_what_an_arm_length_away_needs(client):
    html = screen(client, f"/p/{published().slug}/follow/bar/2/")
    for said in ("Draw out", "Step 2", "of 2", "□20", "□12", "2 heats", "flat-jaw tongs", "°C", "<svg"):
        assert said in html
    assert "figures--shop" in html


def test_first_screen_has_marks_tools_and_safety(client):
    html = screen(client, f"/p/{published().slug}/follow/bar/0/")
    for said in ("Mark out the bar", "240", "Centre punch", "Scale flies", "flat-jaw tongs"):
        assert said in html


def test_last_screen_asks_to_measure(client):
    procedure = published()
    html = screen(client, f"/p/{procedure.slug}/follow/bar/3/")
    assert "measure it" in html
    assert "399.9" in html
    assert "Finish" in html
    assert link(html, "next") == f"/p/{procedure.slug}/"


def test_cautions_stand_before_the_step(client):
    warned = a_step(
        "draw_out",
        heats=1,
        where={"on": "bar", "datum": "end", "length": 60},
        target={"shape": "square", "side": 8},
    )
    html = screen(client, f"/p/{published(a_document(a_part(warned))).slug}/follow/bar/1/")
    assert html.index("finding--caution") < html.index("<h1")


def a_weld():
    stored = json.loads((DEMO / "pot_stand.json").read_bytes())
    return published(stored)


def test_a_weld_is_thought_over_before_it_is_begun(client):
    html = screen(client, f"/p/{a_weld().slug}/follow/hoop/7/")
    thought = html[html.index('class="think"') : html.index("<h1")]
    for said in ("Stop and think", "A welding heat", "behind a shield", "coded welders", "A second person"):
        assert said in thought
    anchor = re.search(r'think__read" href="#([^"]+)"', thought)[1]
    assert f'id="{anchor}"' in html[html.index("<header") :]
    assert "No clock for a welding heat" in html


def test_an_ordinary_step_stops_nobody(client):
    procedure = a_weld()
    assert 'class="think"' not in screen(client, f"/p/{procedure.slug}/follow/foot/2/")
    assert 'class="think"' not in screen(client, f"/p/{published().slug}/follow/bar/2/")


def test_a_striker_is_asked_for_on_heavy_bar_only(client):
    for side, asked in ((20, False), (30, True)):
        step = a_step("draw_out", heats=1, where={"on": "bar", "datum": "end", "length": 100},
                      target={"shape": "square", "side": 18})  # fmt: skip
        part = {**a_part(step), "stock": {"section": {"shape": "square", "side": side}, "length": 300}}
        html = screen(client, f"/p/{published(a_document(part)).slug}/follow/bar/1/")
        assert ("A second person" in html) is asked


def test_place_is_kept_and_offered_again(client):
    procedure = published()
    home = f"/p/{procedure.slug}/"
    assert "Resume" not in screen(client, home)
    screen(client, f"{home}follow/bar/2/")
    for address in (home, f"{home}follow/bar/0/"):
        html = screen(client, address)
        assert "Resume at step 2" in html
        assert f"{home}follow/bar/2/" in html


def test_place_is_forgotten_at_the_end(client):
    procedure = published()
    screen(client, f"/p/{procedure.slug}/follow/bar/2/")
    screen(client, f"/p/{procedure.slug}/follow/bar/3/")
    assert "Resume" not in screen(client, f"/p/{procedure.slug}/")


def test_forged_or_stale_place_is_passed_over(client):
    procedure = published()
    for text in ("nonsense", "W10:1:2"):
        client.cookies["place"] = text
        assert "Resume" not in screen(client, f"/p/{procedure.slug}/")


@pytest.mark.parametrize("place", ["nothing/1/", "bar/4/", "bar/99999999/"])
def test_screen_that_is_not_there_is_404(client, place):
    assert client.get(f"/p/{published().slug}/follow/{place}").status_code == 404


def test_nominal_view_is_kept_from_screen_to_screen(client):
    html = screen(client, f"/p/{published(a_hook()).slug}/follow/bar/1/?view=nominal")
    assert link(html, "next").endswith("/follow/bar/2/?view=nominal")


def test_every_screen_goes_without_script(client):
    procedure = published()
    for number in range(4):
        html = screen(client, f"/p/{procedure.slug}/follow/bar/{number}/")
        assert "onclick" not in html
        # only what a script does is hidden from who has none
        shown = re.sub(r'aria-hidden="true"|class="[^"]*js-only" hidden', "", html.split("<main")[1])
        assert "hidden" not in re.sub(r'type="hidden"', "", shown)
