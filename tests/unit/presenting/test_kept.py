"""What is kept of renderings: made once for the same content, never mixed up, never without end."""

import pytest
from django.core.cache import cache
from django.utils.safestring import SafeString

from procedures.presenting import edition, kept


@pytest.fixture(autouse=True)
def empty_shelf():
    kept.shelf.clear()
    yield
    kept.shelf.clear()


def test_rendering_is_made_once():
    made = []
    for _ in range(3):
        assert kept.kept("a", lambda: made.append(1) or "<p>") == "<p>"
    assert made == [1]
    assert isinstance(kept.kept("a", str), SafeString)


def test_another_process_finds_it_in_the_shared_cache():
    kept.kept("a", lambda: "made")
    kept.shelf.clear()
    assert kept.kept("a", lambda: pytest.fail("made anew")) == "made"


def test_it_is_made_anew_when_it_is_nowhere():
    kept.kept("a", lambda: "first")
    kept.shelf.clear()
    cache.clear()
    assert kept.kept("a", lambda: "second") == "second"


def test_shelf_lets_go_of_what_was_unused_longest():
    shelf = kept.Shelf(largest=10)
    shelf.put("a", "aaaa")
    shelf.put("b", "bbbb")
    shelf.get("a")
    shelf.put("c", "cccc")
    assert (shelf.get("a"), shelf.get("b"), shelf.get("c")) == ("aaaa", None, "cccc")


def test_shelf_does_not_keep_what_is_larger_than_itself():
    shelf = kept.Shelf(largest=10)
    shelf.put("a", "a" * 11)
    assert shelf.get("a") is None
    shelf.put("b", "b")
    assert shelf.get("b") == "b"


def test_key_tells_its_parts_apart():
    keys = [
        edition.content_key(*parts)
        for parts in (("k", "ab", "c"), ("k", "a", "bc"), ("k", "abc"), ("l", "abc"))
    ]
    assert len(set(keys)) == len(keys)


def test_key_changes_with_the_code_that_renders(monkeypatch, tmp_path):
    (tmp_path / "procedures").mkdir()
    file = tmp_path / "procedures" / "one.py"
    monkeypatch.setattr(edition, "_PROJECT", tmp_path)
    found = set()
    for text in ("one", "two"):
        file.write_text(text)
        edition.edition.cache_clear()
        found.add(edition.edition())
    edition.edition.cache_clear()
    assert len(found) == 2
