"""The set-up behind manage.py: what it says when it cannot go on, and that it does nothing twice."""

import pytest

from forgesite import bootstrap


@pytest.fixture
def commands(monkeypatch, tmp_path):
    """The commands that would have been run, on a machine where .venv is somewhere else."""
    called = []
    monkeypatch.setattr(bootstrap, "run", lambda command, *_: called.append([str(part) for part in command]))
    monkeypatch.setattr(bootstrap, "STAMP", tmp_path / "stamp")
    for name in bootstrap.SERVICE_VARIABLES:
        monkeypatch.delenv(name, raising=False)
    return called


def someone(monkeypatch, *, user: int, apt: bool) -> None:
    monkeypatch.setattr(bootstrap.os, "geteuid", lambda: user)
    monkeypatch.setattr(bootstrap.shutil, "which", lambda name: name if apt and name == "apt-get" else None)


def test_missing_library_is_one_line_to_type_for_who_may_not_install(monkeypatch, commands):
    monkeypatch.setattr(bootstrap, "loads", lambda library: "harfbuzz" not in library)
    someone(monkeypatch, user=1000, apt=True)
    with pytest.raises(SystemExit, match=r"printed cards.*: sudo apt-get install libharfbuzz-subset0$"):
        bootstrap.require_printing_libraries()
    assert commands == []


def test_missing_library_is_named_on_a_system_without_apt(monkeypatch, commands):
    monkeypatch.setattr(bootstrap, "loads", lambda library: False)
    someone(monkeypatch, user=0, apt=False)
    with pytest.raises(SystemExit, match=r"libpango-1\.0-0 .*printed cards"):
        bootstrap.require_printing_libraries()
    assert commands == []


def test_missing_library_is_installed_aloud_by_root(monkeypatch, commands, capsys):
    monkeypatch.setattr(bootstrap, "loads", lambda library: "harfbuzz" not in library)
    someone(monkeypatch, user=0, apt=True)
    bootstrap.require_printing_libraries()
    assert commands[-1][-1] == "libharfbuzz-subset0"
    assert "libharfbuzz-subset0, needed to lay out the text of printed cards" in capsys.readouterr().out


def test_missing_browser_is_one_line_to_type_for_who_may_not_install(monkeypatch, commands):
    monkeypatch.delenv("FORGESITE_CHROMIUM", raising=False)
    someone(monkeypatch, user=1000, apt=True)
    with pytest.raises(SystemExit, match=r"real browser.*: sudo apt-get install chromium$"):
        bootstrap.require_browser()


def test_packages_are_installed_once(commands):
    bootstrap.install_packages(for_tests=False)
    assert len(commands) == 1
    bootstrap.install_packages(for_tests=False)
    assert len(commands) == 1


def test_pins_of_tests_are_added_and_then_kept(commands):
    bootstrap.install_packages(for_tests=False)
    bootstrap.install_packages(for_tests=True)
    assert str(bootstrap.TEST_REQUIREMENTS) in commands[1]
    bootstrap.install_packages(for_tests=False)
    assert len(commands) == 2


def test_changed_pins_are_installed_again(monkeypatch, commands):
    monkeypatch.setattr(bootstrap, "digest_of", lambda file: f"{file.name}-before")
    bootstrap.install_packages(for_tests=False)
    monkeypatch.setattr(bootstrap, "digest_of", lambda file: f"{file.name}-after")
    bootstrap.install_packages(for_tests=False)
    assert len(commands) == 2


def test_services_are_installed_only_where_the_environment_names_one(monkeypatch, commands):
    monkeypatch.setenv("DATABASE_URL", "postgres://somewhere/forgesite")
    bootstrap.install_packages(for_tests=False)
    assert str(bootstrap.SERVICE_REQUIREMENTS) in commands[0]


def test_failing_command_shows_what_it_said_and_ends_in_one_line(capfd):
    with pytest.raises(SystemExit, match=r"^forgesite: It could not be done; what it said is above\.$"):
        bootstrap.run(["sh", "-c", "echo the reason; exit 3"], "It could not be done")
    assert capfd.readouterr().err == "the reason\n"
