"""Prepare the database, the static files and the demo, then serve."""

import argparse
import hashlib
import os
import socket
import sys
from collections.abc import Iterable
from pathlib import Path
from typing import Any

from django.conf import settings
from django.contrib.staticfiles.finders import get_finders
from django.core.management import call_command
from django.core.management.base import BaseCommand, CommandError

from procedures.management.commands.load_demo import accounts_with_demo_password

LOOPBACK = ("127.0.0.1", "localhost", "::1")
EVERY_ADDRESS = ("0.0.0.0", "::")


class Command(BaseCommand):
    help = "Prepare everything, load the demo once, and serve. Stop it with Ctrl-C."
    requires_system_checks = ()  # they take a moment, and a taken port can be told at once

    def add_arguments(self, parser: argparse.ArgumentParser) -> None:
        parser.add_argument("--port", type=port_number, default=8000, help="port to listen on (8000)")
        parser.add_argument(
            "--host",
            default="127.0.0.1",
            help="address to listen on (127.0.0.1: this machine only; 0.0.0.0: all)",
        )

    def handle(self, *args: Any, host: str, port: int, **options: Any) -> None:
        refuse_taken_port(host, port)
        self.check()
        call_command("migrate", interactive=False, verbosity=0)
        self.collect_static()
        if not settings.PRODUCTION:
            call_command("load_demo", verbosity=0)
        call_command("reindex", missing=True, verbosity=0)  # from before there was search
        call_command("forget_classes", verbosity=0)
        self.say_where(host, port)
        serve(host, port)

    def collect_static(self) -> None:
        """Copy and compress the static files, when they are not those already collected."""
        stamp = settings.INSTANCE / "static.digest"
        digest = digest_of_static_sources()
        if stamp.exists() and stamp.read_text() == digest and settings.STATIC_ROOT.exists():
            return
        call_command("collectstatic", interactive=False, verbosity=0, clear=True)
        stamp.write_text(digest)

    def say_where(self, host: str, port: int) -> None:
        shown = f"[{host}]" if ":" in host else host
        if host in LOOPBACK:
            shown = "localhost"
        elif host in EVERY_ADDRESS:
            shown = socket.gethostname()
        lines = ["", f"  forgesite is at  http://{shown}:{port}/", ""]
        if settings.DEMO_PASSWORD:
            lines += [
                f"  sign in as  {name}  with  {settings.DEMO_PASSWORD}"
                for name in accounts_with_demo_password()
            ]
        lines += ["  Ctrl-C stops it.", ""]
        self.stdout.write("\n".join(lines))
        self.stdout.flush()


def port_number(text: str) -> int:
    if not (text.isdecimal() and 1 <= int(text) <= 65535):
        raise argparse.ArgumentTypeError(f"{text!r} is not a port; use a whole number from 1 to 65535")
    return int(text)


def refuse_taken_port(host: str, port: int) -> None:
    """Stop with one line when the address cannot be listened on."""
    try:
        family, kind, protocol, _, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        with socket.socket(family, kind, protocol) as probe:
            # A port that a stopped server left a moment ago is free, and is not refused.
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind(address)
    except socket.gaierror:
        raise CommandError(f"{host!r} is not an address of this machine.") from None
    except OSError as refusal:
        reason = refusal.strerror or str(refusal)
        another = "--port 8001" if port == 8000 else "--port 8000"
        raise CommandError(
            f"Port {port} of {host} cannot be used ({reason}): choose another with {another}."
        ) from None


def digest_of_static_sources() -> str:
    """What tells one set of static files from another: every path with its size and time of change."""
    digest = hashlib.sha256()
    for name, file in sorted(static_sources()):
        state = file.stat()
        digest.update(f"{name} {state.st_size} {state.st_mtime_ns}\n".encode())
    return digest.hexdigest()


def static_sources() -> Iterable[tuple[str, Path]]:
    for finder in get_finders():
        for name, storage in finder.list([]):
            yield name, Path(storage.path(name))


def serve(host: str, port: int) -> None:
    """Become the server."""
    if host not in LOOPBACK and not settings.PRODUCTION:
        os.environ["ALLOWED_HOSTS"] = ",".join([*settings.ALLOWED_HOSTS, *names_of_this_machine(host)])
    address = f"[{host}]:{port}" if ":" in host else f"{host}:{port}"
    options = ["--bind", address, "--worker-class", "gthread", "--workers", "2", "--threads", "4"]
    # A worker that Ctrl-C finds half started is waited for no longer than this many seconds.
    options += ["--graceful-timeout", "5"]
    options += ["--preload", "--no-control-socket", "--log-level", "warning"]
    os.execv(sys.executable, [sys.executable, "-m", "gunicorn", *options, "forgesite.wsgi:application"])


def names_of_this_machine(host: str) -> list[str]:
    """The names under which others on the network may ask for a server that listens on `host`."""
    if host not in EVERY_ADDRESS:
        return [host]
    name = socket.gethostname()
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        try:
            probe.connect(("192.0.2.1", 9))  # sends nothing: only asks which of our addresses would be used
            outward = [probe.getsockname()[0]]
        except OSError:
            outward = []
    return [name, f"{name}.local", *outward]
