"""The engine for a phone: what is served, and that it is the site's own code without what a phone has not."""

import ast
import io
import sys
import zipfile

import brotli
import pytest
from django.urls import reverse

from calculators import units
from procedures.engine_archive import engine_archive
from procedures.presenting.edition import edition
from procedures.views.engine import RUNTIME, VERSION, engine_files


def modules():
    with zipfile.ZipFile(io.BytesIO(engine_archive())) as archive:
        return {name: archive.read(name).decode() for name in archive.namelist()}


def test_archive_is_the_same_for_the_same_code():
    first = engine_archive()
    engine_archive.cache_clear()
    assert engine_archive() == first


def test_archive_needs_nothing_but_python():
    known = set(sys.stdlib_module_names) | {"calculators", "procedures"}
    for name, text in modules().items():
        for node in ast.walk(ast.parse(text)):
            names = [one.name for one in node.names] if isinstance(node, ast.Import) else []
            if isinstance(node, ast.ImportFrom) and node.level == 0:
                names = [node.module]
            needed = {one.split(".")[0] for one in names}
            assert needed <= known | ({"pint"} if name == "calculators/units.py" else set()), name


def test_units_are_those_that_pint_gives():
    packed = {}
    exec(compile(modules()["calculators/units.py"], "units", "exec"), packed)  # noqa: S102  (our own code)
    assert packed["to_house"](1, "in") == units.to_house(1, "in") == 25.4
    assert packed["_FACTORS"] == units.factors()
    assert packed["celsius"](212) == pytest.approx(100)


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("pyodide.mjs", "text/javascript"),
        ("pyodide.asm.mjs", "text/javascript"),
        ("pyodide.asm.wasm", "application/wasm"),
        ("python_stdlib.zip", "application/zip"),
    ],
)
def test_runtime_is_sent_compressed_where_that_is_understood(client, name, kind):
    address = reverse("procedures:runtime", args=[VERSION, name])
    plain = client.get(address)
    packed = client.get(address, headers={"accept-encoding": "gzip, br"})
    assert plain["Content-Type"] == packed["Content-Type"] == kind
    assert "immutable" in plain["Cache-Control"]
    if packed.get("Content-Encoding") == "br":
        assert brotli.decompress(packed.content) == plain.content
    assert len(packed.content) == engine_files()[address]


@pytest.mark.parametrize(
    "address",
    [
        f"/engine/{VERSION}/README.md",
        f"/engine/{VERSION}/..%2F..%2Faccess.py",
        "/engine/1.0/pyodide.mjs",
        "/engine/0123456789abcdef.zip",
    ],
)
def test_nothing_else_is_served(client, address):
    assert client.get(address).status_code == 404


def test_archive_is_kept_for_good_by_who_has_it(client):
    response = client.get(f"/engine/{edition()}.zip")
    assert response.content == engine_archive()
    assert "immutable" in response["Cache-Control"]
    assert "Cookie" not in response.get("Vary", "")


def test_all_that_a_phone_fetches_is_told_with_its_size(client):
    told = engine_files()
    assert len(told) == 5
    for address, size in told.items():
        assert len(client.get(address, headers={"accept-encoding": "br"}).content) == size
    assert RUNTIME.joinpath("README.md").is_file()
