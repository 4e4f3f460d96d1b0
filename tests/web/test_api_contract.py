"""Every address answers as the description of the API says, and none breaks."""

from __future__ import annotations

from typing import Any

import httpx
import pytest
import schemathesis
from hypothesis import HealthCheck, settings
from schemathesis.checks import not_a_server_error

from leadsman.web.app import make_app

from .conftest import Served

schema = schemathesis.openapi.from_dict(make_app().openapi())


@schema.hook
def map_body(context: Any, body: Any) -> Any:
    """Half of the made-up names become real ones, so that more than the names is tried."""
    if isinstance(body, dict):
        for key, name in (("lure", "long-lip-15"), ("line", "fluoro-12")):
            if isinstance(body.get(key), str) and len(body[key]) % 2:
                body[key] = name
    return body


@schema.parametrize()
@settings(
    max_examples=12,
    deadline=None,
    derandomize=True,
    suppress_health_check=list(HealthCheck),
)
def test_no_request_breaks_the_server(case: Any, served: Served) -> None:
    response = case.call(base_url=served.url, timeout=60)
    case.validate_response(response, checks=[not_a_server_error])
    assert response.status_code < 500
    if response.status_code >= 400:
        assert response.json()["problem"]


def test_the_description_is_complete(client: httpx.Client) -> None:
    told = client.get("/api/openapi.json").json()
    for path, methods in told["paths"].items():
        for method, operation in methods.items():
            assert "422" in operation["responses"], (path, method)
            assert operation["operationId"] and operation.get("description"), (path, method)


@pytest.mark.parametrize("path", ["/docs", "/redoc", "/openapi.json"])
def test_nothing_that_loads_from_elsewhere_is_served(client: httpx.Client, path: str) -> None:
    assert client.get(path).status_code == 404
