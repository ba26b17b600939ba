"""The runner behind `python3 manage.py bench`."""

import argparse
import importlib
import pkgutil
import shutil
import sys
from collections.abc import Iterable
from types import ModuleType

import django
from django.conf import settings
from django.test.runner import DiscoverRunner
from django.test.utils import setup_test_environment, teardown_test_environment

import tests.bench
from tests.bench import Row


def main(arguments: list[str]) -> None:
    names = [name for _, name, _ in pkgutil.iter_modules(tests.bench.__path__) if not name.startswith("_")]
    parser = argparse.ArgumentParser(prog="manage.py bench", description="Measure what must stay fast.")
    parser.add_argument("name", nargs="*", help=f"run these only: {', '.join(names)}")
    chosen = parser.parse_args(arguments).name or names
    if unknown := sorted(set(chosen) - set(names)):
        parser.error(f"there is no bench {', '.join(unknown)}; there are {', '.join(names)}")

    settings.INSTANCE.mkdir(mode=0o700)
    django.setup()
    setup_test_environment()
    runner = DiscoverRunner(verbosity=0, interactive=False)
    databases = runner.setup_databases()
    try:
        for name in chosen:
            print_table(importlib.import_module(f"tests.bench.{name}"))
    finally:
        runner.teardown_databases(databases)
        teardown_test_environment()
        shutil.rmtree(settings.INSTANCE)


def print_table(bench: ModuleType) -> None:
    print(f"\n{bench.TITLE}")
    for line in lines_of(bench.run()):
        print(line, flush=True)


def lines_of(rows: Iterable[Row]) -> Iterable[str]:
    for row in rows:
        verdict = ""
        if row.aim is not None:
            verdict = f"aim {row.aim:g}  {'met' if row.value <= row.aim else 'MISSED'}"
        yield f"  {row.name:<60.60} {row.value:>10.4g} {row.unit:<10} {verdict}".rstrip()


if __name__ == "__main__":
    main(sys.argv[1:])
