"""`manage.py replay`: what it prints, without a database, and how it refuses a broken document."""

import io
import json
import sys

import pytest
from django.core.management import call_command

from tests.unit.engine.documents import a_document, a_part, a_step, drawn_out


def marked(name: str = "A", offset: float = 100) -> dict:
    return a_step("mark_out", marks=[{"name": name, "on": "bar", "datum": "end", "offset": offset}])


@pytest.fixture
def kept(tmp_path):
    """Write what is given to a file and return its name."""

    def keep(stored) -> str:
        file = tmp_path / "procedure.json"
        file.write_bytes(stored if isinstance(stored, bytes) else json.dumps(stored).encode())
        return str(file)

    return keep


def replayed(*arguments: str) -> str:
    said = io.StringIO()
    call_command("replay", *arguments, stdout=said)
    return said.getvalue()


def refused(capsys, *arguments: str) -> str:
    """What was said on refusing, in one line, with exit code 2."""
    with pytest.raises(SystemExit) as end:
        call_command("replay", *arguments, stdout=io.StringIO())
    assert end.value.code == 2
    said = capsys.readouterr().err.strip()
    assert said
    assert "\n" not in said
    assert "Traceback" not in said
    return said


def test_every_step_is_reported_with_piece_marks_and_ledger(kept):
    file = kept(a_document(a_part(marked(), drawn_out(side=12, length=60, heats=2))))
    said = json.loads(replayed(file, "--json"))
    assert (said["format"], said["version"], said["view"]) == ("forgesite.replay", 1, "expected")
    assert said["complete"] is True
    [part] = said["parts"]
    assert part["stock"] == {
        "section": {"shape": "square", "side": 20.0},
        "length": 300.0,
        "volume": 120_000.0,
        "mass": 0.942,
    }
    first, second = part["steps"]
    assert (first["number"], first["key"], first["operation"]) == (1, "s1", "mark_out")
    assert first["branches"][0]["marks"] == [{"name": "A", "at": 200.0}]
    assert second["status"] == "done"
    assert second["heats"] == 2
    [kept_run, worked] = second["branches"][0]["segments"]
    assert kept_run["length"] == 240.0
    assert worked["start"] == worked["end"] == {"shape": "square", "side": 12.0}
    ledger = second["ledger"]
    assert ledger["scale"] > 0
    out = sum(ledger[kind] for kind in ("piece", "scale", "kerf", "slug", "weld", "measured", "offcuts"))
    assert ledger["start"] + ledger["received"] == pytest.approx(out, rel=1e-6)
    assert second["mass"] == pytest.approx(second["volume"] * 7850e-9)


def test_nominal_view_leaves_scale_out(kept):
    file = kept(a_document(a_part(drawn_out(side=12, length=60, heats=2))))
    said = json.loads(replayed(file, "--json", "--nominal"))
    [step] = said["parts"][0]["steps"]
    assert said["view"] == "nominal"
    assert step["ledger"]["scale"] == 0
    assert step["branches"][0]["segments"][1]["length"] == pytest.approx(60 * 400 / 144, abs=1e-6)


def test_high_estimate_loses_more_than_low(kept):
    file = kept(a_document(a_part(drawn_out(heats=2))))
    low, high = (
        json.loads(replayed(file, "--json", "--estimate", name))["parts"][0]["steps"][0]["ledger"]["scale"]
        for name in ("low", "high")
    )
    assert 0 < low < high


def test_stop_is_in_the_report_and_later_steps_are_not_reached(kept):
    file = kept(a_document(a_part(drawn_out(side=30), drawn_out())))
    said = json.loads(replayed(file, "--json"))
    first, second = said["parts"][0]["steps"]
    assert said["complete"] is False
    assert first["status"] == "stopped"
    assert [one["code"] for one in first["findings"]] == ["draw_out.target_not_thinner"]
    assert first["findings"][0]["level"] == "stop"
    assert "□30" in first["findings"][0]["message"]
    assert second["status"] == "not_reached"


def test_text_says_the_same_for_reading(kept):
    text = replayed(kept(a_document(a_part(marked(), drawn_out(heats=2)))))
    assert "1. s1: mark_out [done]" in text
    assert "2. s2: draw_out [done]" in text
    assert "marks: A 200" in text
    assert "scale" in text.splitlines()[-1]


def test_same_document_gives_the_same_bytes(kept):
    file = kept(a_document(a_part(marked(), drawn_out(heats=2))))
    assert replayed(file, "--json") == replayed(file, "--json")


def test_standard_input_is_read(monkeypatch):
    text = json.dumps(a_document(a_part(drawn_out()))).encode()
    monkeypatch.setattr(sys, "stdin", io.TextIOWrapper(io.BytesIO(text)))
    assert json.loads(replayed("-", "--json"))["complete"] is True


@pytest.mark.parametrize(
    ("stored", "line"),
    [
        ({**a_document(), "colour": "red"}, "colour: There is no field of this name."),
        (a_document(a_part(length=-1)), "parts/0/stock/length: "),
        (a_document(a_part(length=1e308)), "parts/0/stock/length: "),
        (a_document(a_part(a_step("levitate"))), "parts/0/steps/0/operation: There is no operation"),
        (a_document(a_part(a_step("draw_out"))), "parts/0/steps/0/params"),
        (a_document(a_part(*[marked()] * 10_000)), "parts: There are 10000 steps"),
        ([], "(the document): An object is needed here."),
        (b"{not json", "(the document): This is not JSON: "),
        (b"", "(the document): This is not JSON: "),
        (b"\xff\xfe\x00", "(the document): The file is not UTF-8 text"),
        (b'{"format": NaN}', "(the document): NaN is not a number in JSON."),
        (b'{"title": "a", "title": "b"}', "title: This name is there twice"),
        (b"[" * 100_000, "(the document): The JSON is nested too deep."),
        (b"[" + b"9" * 5000 + b"]", "(the document): A number in it has more digits"),
        (b" " * 5_000_001, "(the document): The file is larger than 5 MB."),
    ],
    ids=lambda value: value[:30] if isinstance(value, str) else "",
)
def test_broken_document_is_refused_in_one_line_with_its_path(kept, capsys, stored, line):
    assert refused(capsys, kept(stored)).startswith(line)


def test_number_beyond_all_measure_is_refused(kept, capsys):
    text = json.dumps(a_document(a_part(length=123.25))).replace("123.25", "1e400")
    assert refused(capsys, kept(text.encode())).startswith("parts/0/stock/length: ")


def test_file_that_is_not_there_is_refused(capsys, tmp_path):
    name = str(tmp_path / "nothing.json")
    assert refused(capsys, name) == f"{name}: No such file or directory."


def test_folder_is_refused(capsys, tmp_path):
    assert refused(capsys, str(tmp_path)).startswith(f"{tmp_path}: ")
