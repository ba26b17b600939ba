"""The set-up behind manage.py: virtual environment, pinned packages, system libraries, secrets.

Standard library only, since it runs before anything is installed. Every step looks first and does
nothing when it is already done, so a second start costs milliseconds.
"""

import ctypes
import hashlib
import os
import secrets
import shutil
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path
from typing import NoReturn

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
VERSION = f"{sys.version_info.major}.{sys.version_info.minor}"
VENV_PYTHON = VENV / "bin" / "python"
STAMP = VENV / "forgesite-installed"

SITE_REQUIREMENTS = ROOT / "requirements.txt"
SERVICE_REQUIREMENTS = ROOT / "forgesite" / "requirements-services.txt"
TEST_REQUIREMENTS = ROOT / "tests" / "requirements.txt"
SERVICE_VARIABLES = ("DATABASE_URL", "REDIS_URL", "FORGESITE_S3_BUCKET")

# The Debian package of each library WeasyPrint loads; each brings what it stands on itself.
PRINTING_LIBRARIES = {
    "libpango-1.0.so.0": "libpango-1.0-0",
    "libpangoft2-1.0.so.0": "libpangoft2-1.0-0",
    "libharfbuzz-subset.so.0": "libharfbuzz-subset0",
}
# The browser's driver is a program of its own, which a bare system cannot load without this.
BROWSER_LIBRARIES = {"libatomic.so.1": "libatomic1"}
BROWSERS = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable")


def enter(argv: list[str]) -> None:
    """Prepare what the command needs; return only when running inside the virtual environment."""
    command, arguments = (argv[1], argv[2:]) if len(argv) > 1 else ("help", [])
    for_tests = command in {"test", "bench"}
    make_environment()
    install_packages(for_tests)
    if for_tests or command == "start":
        require_printing_libraries()
    if command == "test":
        require_browser()
    if for_tests:
        run_tests(command, arguments)
    make_secrets()
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "forgesite.settings")
    if Path(sys.prefix) != VENV:
        replace_process([str(VENV_PYTHON), str(ROOT / "manage.py"), *argv[1:]])


def run_tests(command: str, arguments: list[str]) -> NoReturn:
    """Become pytest, so that its summary ends the output and its exit code is ours; or the benches."""
    os.chdir(ROOT)
    os.environ["DJANGO_SETTINGS_MODULE"] = "tests.settings"
    if command == "bench":
        replace_process([str(VENV_PYTHON), "-m", "tests.bench", *arguments])
    # More than four browsers and type checkers at once only get in each other's way.
    parallel = ["-n", "auto", "--maxprocesses", "4", "--dist", "worksteal"]
    replace_process([str(VENV_PYTHON), "-m", "pytest", *parallel, *arguments])


def replace_process(command: list[str]) -> NoReturn:
    sys.stdout.flush()
    sys.stderr.flush()
    os.execv(command[0], command)


# --- The virtual environment and its packages


def make_environment() -> None:
    """Make .venv with the standard library, or make it anew when Python itself was upgraded."""
    made_for = next(iter(read_stamp()), VERSION)
    complete = VENV_PYTHON.exists() and (VENV / "bin" / "pip").exists()
    if Path(sys.prefix) == VENV or (complete and made_for == VERSION):
        return
    if find_spec("ensurepip") is None:  # Debian leaves it out of its plain python3
        belongs_to_debian = Path(sys.executable).resolve().parent == Path("/usr/bin")
        package = "python3-venv" if belongs_to_debian else f"python{VERSION}-venv"
        require_debian_packages([package], "make a virtual environment")
    say(f"Making a virtual environment in {VENV.name} (once)")
    clear = ["--clear"] if made_for != VERSION else []
    run([sys.executable, "-m", "venv", *clear, str(VENV)], "The virtual environment could not be made")


def install_packages(for_tests: bool) -> None:
    """Install the pinned packages into .venv when the pins differ from those installed."""
    files = [SITE_REQUIREMENTS]
    if any(os.environ.get(name) for name in SERVICE_VARIABLES):
        files.append(SERVICE_REQUIREMENTS)
    if for_tests:
        files.append(TEST_REQUIREMENTS)
    have = read_stamp()
    # What an earlier command needed stays installed, so the stamp only ever adds to a set of digests.
    wanted = [digest_of(file) for file in files]
    if set(wanted) <= set(have):
        return
    say("Installing the pinned packages of " + ", ".join(str(file.relative_to(ROOT)) for file in files))
    options = ["-qq", "--disable-pip-version-check", "--no-input"]
    sources = [part for file in files for part in ("-r", str(file))]
    run([str(VENV_PYTHON), "-m", "pip", "install", *options, *sources], "pip could not install the packages")
    current = {digest_of(f) for f in (SITE_REQUIREMENTS, SERVICE_REQUIREMENTS, TEST_REQUIREMENTS)}
    STAMP.write_text(" ".join([VERSION, *sorted((set(have) & current) | set(wanted))]) + "\n")


def read_stamp() -> list[str]:
    """The Python version that .venv was made for, then the digests of the pins installed in it."""
    return STAMP.read_text().split() if STAMP.exists() else []


def digest_of(file: Path) -> str:
    return hashlib.sha256(file.read_bytes()).hexdigest()


# --- System packages


def require_printing_libraries() -> None:
    """Make sure that the libraries behind the PDF cards can be loaded."""
    if missing := packages_of_missing(PRINTING_LIBRARIES):
        require_debian_packages(missing, "lay out the text of printed cards (WeasyPrint)")


def packages_of_missing(libraries: dict[str, str]) -> list[str]:
    if sys.platform != "linux":
        return []  # elsewhere they go by other names; the message of what needs them says which is missing
    return [package for library, package in libraries.items() if not loads(library)]


def loads(library: str) -> bool:
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def require_browser() -> None:
    """Make sure that there is a Chromium for the browser tests, and what its driver needs."""
    missing = packages_of_missing(BROWSER_LIBRARIES)
    if find_browser() is None:
        missing.append("chromium")
    if missing:
        require_debian_packages(missing, "drive the site in a real browser in the tests")


def find_browser() -> str | None:
    """The path of a Chromium: FORGESITE_CHROMIUM when set, else the first one found."""
    named = os.environ.get("FORGESITE_CHROMIUM")
    return named or next(filter(None, map(shutil.which, BROWSERS)), None)


def require_debian_packages(packages: list[str], purpose: str) -> None:
    """Install system packages where that is allowed, or stop with the one line to type."""
    names = " ".join(packages)
    if shutil.which("apt-get") is None:
        stop(f"{names} (Debian's names) must be installed to {purpose}: use your system's package manager.")
    if os.geteuid() != 0:
        stop(f"To {purpose}, type: sudo apt-get install {names}")
    say(f"Installing the system packages {names}, needed to {purpose}")
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    failure = f"apt-get could not install {names}"
    run(["apt-get", "update", "-qq"], failure, environment)
    install = ["apt-get", "install", "-y", "-qq", "--no-install-recommends", *packages]
    run(install, failure, environment)


# --- Secrets


def instance_folder() -> Path:
    """Where this installation keeps what is its own: database, photos, cache, secrets."""
    return Path(os.environ.get("FORGESITE_INSTANCE") or ROOT / ".instance").resolve()


def make_secrets() -> None:
    """Write this installation's secrets once; production takes them from the environment instead."""
    if os.environ.get("FORGESITE_ENV") == "production":
        return
    folder = instance_folder()
    file = folder / "secrets.env"
    if file.exists():
        return
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    lines = (
        f"SECRET_KEY={secrets.token_urlsafe(60)}",
        f"FORGESITE_DEMO_PASSWORD={'-'.join(secrets.token_hex(2) for _ in range(3))}",
    )
    # Made readable by its owner alone from the start, and complete or not there at all.
    draft = folder / f"secrets.{os.getpid()}.draft"
    with open(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "w") as opened:
        opened.write("\n".join(lines) + "\n")
    draft.replace(file)


# --- Saying and running


def say(sentence: str) -> None:
    print(f"forgesite: {sentence}.", flush=True)


def stop(sentence: str) -> NoReturn:
    sys.exit(f"forgesite: {sentence}")


def run(command: list[str], failure: str, environment: dict[str, str] | None = None) -> None:
    """Run a command quietly; when it fails, show what it said and stop with one line."""
    nothing, both = subprocess.DEVNULL, subprocess.STDOUT
    done = subprocess.run(
        command, stdin=nothing, stdout=subprocess.PIPE, stderr=both, env=environment, check=False
    )
    if done.returncode != 0:
        sys.stderr.write(done.stdout.decode(errors="replace"))
        stop(f"{failure}; what it said is above.")
