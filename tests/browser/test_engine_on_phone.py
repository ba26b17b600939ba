"""The engine in the browser gives the site's own answers, to the last letter."""

import json
from pathlib import Path

import pytest
from django.templatetags.static import static
from playwright.sync_api import Page

import procedures
from procedures.engine.document import read
from procedures.engine.replan import gauges
from procedures.engine.replay import replay
from procedures.replanning import replanned
from procedures.views.engine import engine_addresses

DEMO = sorted((Path(procedures.__file__).parent / "demo").glob("*.json"))
ENGINE = """async ({addresses, given, asked}) => {
  const {opened} = await import("forgesite/shop/engine");
  const engine = await opened(addresses);
  const answers = [];
  for (const [plan, part, measured] of asked) {
    await engine.plan({...plan, document: given[plan.document]});
    answers.push(await engine.answer({part, measured}));
  }
  return answers;
}"""


def measured_in(document: dict) -> list[tuple[str, dict]]:
    """Every third step of every part measured 3 % short, as (part, what was typed)."""
    found = []
    for part in replay(read(document)).parts:
        for frame in part.frames[::3]:
            for one in gauges(frame)[:1]:
                typed = {"kind": one.kind, "branch": one.branch, "length": f"{one.length * 0.97:.1f}"}
                found.append((part.part.key, {"step": frame.key, **typed}))
    return found


@pytest.mark.django_db
def test_answers_are_the_sites_own(page: Page, live_server):
    given = [json.loads(one.read_text()) for one in DEMO]
    asked = []
    for index, document in enumerate(given):
        for part, typed in measured_in(document):
            for units, nominal in (("metric", False), ("inch", True)):
                asked.append(({"document": index, "nominal": nominal, "units": units}, part, [typed]))
    assert len(asked) > 20
    page.goto("/")
    addresses = {**engine_addresses(), "worker": static("js/shop/engine_worker.js")}
    answers = page.evaluate(ENGINE, {"addresses": addresses, "given": given, "asked": asked})
    for (plan, part, measured), answer in zip(asked, answers, strict=True):
        expected = replanned(
            {**plan, "document": given[plan["document"]], "part": part, "measured": measured}
        )
        assert answer == json.loads(json.dumps(expected))
