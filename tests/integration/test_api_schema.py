"""schemathesis tries the API by its own description: what comes back is what it says."""

import pytest
import schemathesis
from django.core.signals import request_finished, request_started
from django.core.wsgi import get_wsgi_application
from django.db import close_old_connections
from django.test import override_settings
from hypothesis import HealthCheck, given, settings
from schemathesis.specs.openapi.checks import positive_data_acceptance

from procedures import actions
from procedures.api.signing import EachAsker
from procedures.api.site import api

from .showing import person, published

pytestmark = pytest.mark.django_db
ROOT = "/api/1/"
RATES = {"api_write": "100000/h/key"}


@pytest.fixture
def connection_kept(db):
    """As Django's test client does: a request does not close the connection that the test writes by."""
    for signal in (request_started, request_finished):
        signal.disconnect(close_old_connections)
    yield
    for signal in (request_started, request_finished):
        signal.connect(close_old_connections)


@pytest.fixture
def token(connection_kept, monkeypatch):
    monkeypatch.setattr(EachAsker, "allow_request", lambda self, request: True)
    published()
    return actions.make_token(name="Tests", writes=True, days=None, by=person())[1]


@pytest.fixture
def described(connection_kept):
    config = schemathesis.Config.from_dict({"generation": {"deterministic": True}})
    return schemathesis.openapi.from_wsgi(f"{ROOT}openapi.json", get_wsgi_application(), config=config)


OPERATIONS = [
    (method, path)
    for path, methods in api.get_openapi_schema(path_prefix=ROOT)["paths"].items()
    for method in methods
]


@pytest.mark.parametrize(("method", "path"), OPERATIONS)
def test_api_does_what_it_says(described, token, method, path):
    @settings(max_examples=12, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
    @given(case=described[path][method].as_strategy())
    def tried(case):
        if "{slug}" in path:
            case.path_parameters["slug"] = "a-hook"
        # Not that all that fits is taken: why a document is refused, a schema cannot say.
        case.call_and_validate(headers=plain(token), excluded_checks=[positive_data_acceptance])

    with override_settings(ACCOUNT_RATE_LIMITS=RATES):
        tried()


def plain(token):
    return {"Authorization": f"Bearer {token}", "Accept-Encoding": "identity"}


def test_every_operation_is_tried():
    assert len(OPERATIONS) > 15
