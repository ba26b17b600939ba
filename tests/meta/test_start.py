"""`manage.py start`, as a new user would run it, and what it says when it cannot."""

import os
import re
import signal
import socket
import sqlite3
import subprocess
import sys
import urllib.error
import urllib.request
from collections.abc import Iterator
from contextlib import closing, contextmanager
from pathlib import Path
from time import sleep

import pytest

ROOT = Path(__file__).resolve().parents[2]
OURS = ("DJANGO_SETTINGS_MODULE", "SECRET_KEY", "ALLOWED_HOSTS", "FORGESITE_DEMO_PASSWORD", "FORGESITE_ENV")


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return probe.getsockname()[1]


def command(instance: Path, port: int, *more: str) -> dict:
    environment = {name: value for name, value in os.environ.items() if name not in OURS}
    environment["FORGESITE_INSTANCE"] = str(instance)
    arguments = [sys.executable, "-u", str(ROOT / "manage.py"), "start", "--port", str(port), *more]
    return {"args": arguments, "env": environment, "text": True}


@contextmanager
def started(instance: Path, port: int) -> Iterator[str]:
    """What `start` said, while it serves."""
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.STDOUT, "start_new_session": True}
    with subprocess.Popen(**command(instance, port), **pipes) as server:
        said = ""
        try:
            for line in server.stdout:
                said += line
                if "Ctrl-C" in line:
                    break
            else:
                pytest.fail(said)
            fetch(f"http://127.0.0.1:{port}/healthz")  # until it listens there is no server to stop
            yield said
        finally:
            stop(server)


def stop(server: subprocess.Popen) -> None:
    """Press Ctrl-C: the server and its workers all get the signal."""
    if server.poll() is None:
        os.killpg(server.pid, signal.SIGINT)
        try:
            server.wait(timeout=20)
        except subprocess.TimeoutExpired:
            os.killpg(server.pid, signal.SIGKILL)
            pytest.fail("Ctrl-C did not stop the server")


def fetch(url: str) -> tuple[int, bytes]:
    """The answer, waiting up to ten seconds for the server to listen."""
    for _ in range(100):
        try:
            with urllib.request.urlopen(url, timeout=10) as answer:
                return answer.status, answer.read()
        except urllib.error.HTTPError:
            raise
        except urllib.error.URLError:
            sleep(0.1)
    raise AssertionError(f"{url} was never answered")


def test_first_start_serves_and_second_start_changes_nothing(tmp_path):
    port = free_port()
    with started(tmp_path, port) as said:
        assert f"http://localhost:{port}/" in said
        password = re.search(r"sign in as  smith  with  (\S+)", said)[1]
        status, page = fetch(f"http://127.0.0.1:{port}/")
        assert status == 200
        for asset in set(re.findall(r'(?:href|src)="(/static/[^"]+)"', page.decode())):
            assert fetch(f"http://127.0.0.1:{port}{asset}")[0] == 200, asset
    with closing(sqlite3.connect(tmp_path / "db.sqlite3")) as database:
        assert database.execute("PRAGMA journal_mode").fetchone() == ("wal",)
        database.execute("UPDATE auth_user SET first_name = 'kept' WHERE username = 'smith'")
        database.execute("DELETE FROM auth_user WHERE username = 'apprentice'")
        database.commit()
    with started(tmp_path, port) as said:
        assert password in said
        assert "apprentice" not in said
    with closing(sqlite3.connect(tmp_path / "db.sqlite3")) as database:
        rows = database.execute("SELECT username, first_name FROM auth_user").fetchall()
    assert rows == [("smith", "kept")]


def test_taken_port_is_refused_in_one_line(tmp_path):
    with socket.socket() as holder:
        holder.bind(("127.0.0.1", 0))
        holder.listen()
        port = holder.getsockname()[1]
        done = subprocess.run(**command(tmp_path, port), capture_output=True, check=False)
    assert done.returncode != 0
    assert done.stderr.strip().count("\n") == 0
    assert f"Port {port} of 127.0.0.1 cannot be used" in done.stderr


@pytest.mark.parametrize("port", ["0", "70000", "http", "-1"])
def test_nonsense_port_is_refused_with_what_would_do(tmp_path, port):
    arguments = command(tmp_path, 0)
    arguments["args"][-1] = port
    done = subprocess.run(**arguments, capture_output=True, check=False)
    assert done.returncode != 0
    assert "Traceback" not in done.stderr
    assert "port" in done.stderr
