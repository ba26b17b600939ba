"""Mending by one press and letting a caution stand, in a real browser."""

import pytest
from playwright.sync_api import Page, expect

from procedures.models import Procedure
from tests.integration.showing import a_draft, person
from tests.unit.engine.documents import a_document, a_part, a_step

BOSS = "The boss is flattened on purpose."


@pytest.fixture
def draft(transactional_db) -> Procedure:
    hole = a_step("punch", heats=1, where=[{"on": "bar", "datum": "end", "offset": 30}], size=6)
    flat = {"on": "bar", "datum": "end", "length": 60}
    return a_draft(
        a_document(a_part(hole, a_step("flatten", heats=1, where=flat, thickness=10, bite=20), length=500))
    )


@pytest.fixture
def bench(page: Page, sign_in, draft) -> Page:
    sign_in(page, person())
    page.goto(f"/p/{draft.slug}/edit/?part=bar&step=s2")
    return page


def the_caution(page: Page):
    return page.locator(".finding").filter(has_text="it closes")


def test_one_press_moves_the_step_and_undo_moves_it_back(bench, draft):
    the_caution(bench).get_by_role("button", name="Move step 1, Punch, after this").click()
    expect(bench.locator("#bench-saved")).to_have_text("Mended")
    expect(the_caution(bench)).to_have_count(0)
    expect(bench.locator("li[data-key] .row__title").first).to_have_text("Flatten")
    bench.get_by_role("button", name="Undo").click()
    expect(bench.locator("li[data-key] .row__title").first).to_have_text("Punch")


def test_a_caution_is_let_stand_by_key_alone_and_speaks_again(bench, draft, assert_accessible):
    bench.set_viewport_size({"width": 1280, "height": 900})
    found = the_caution(bench)
    found.locator("summary").focus()
    bench.keyboard.press("Enter")
    bench.keyboard.press("Tab")
    bench.keyboard.type(BOSS)
    bench.keyboard.press("Tab")
    expect(found.get_by_label("Why it may stand")).to_have_value(BOSS)  # leaving it saves nothing by itself
    assert_accessible(bench)
    bench.keyboard.press("Enter")
    expect(bench.locator("#bench-saved")).to_have_text("Let stand")
    expect(the_caution(bench)).to_contain_text(f"Let stand: {BOSS}")
    expect(bench.locator("#line-s2 .finding-count")).to_have_count(0)
    assert_accessible(bench)
    the_caution(bench).get_by_role("button", name="Let it speak again").click()
    expect(the_caution(bench).locator("summary")).to_be_visible()
    draft.refresh_from_db()
    assert "silenced" not in draft.document["parts"][0]["steps"][1]


def test_without_a_reason_it_says_what_is_missing(bench):
    the_caution(bench).locator("summary").click()
    the_caution(bench).get_by_role("button", name="Let it stand").click()
    expect(bench.locator("#bench-saved")).to_contain_text("Say why it may stand")
