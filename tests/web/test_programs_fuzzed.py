"""The interface for programs under what no program should send: never a fault of ours, nothing half-written."""

from collections.abc import Iterator

import pytest
import requests
import schemathesis
from django.db import connections
from hypothesis import HealthCheck, settings

from bladewright.records.acts import Act
from bladewright.records.checking import check
from bladewright.records.opening import open_book
from bladewright.records.ready import models
from bladewright.records.tokens import May, make_token
from bladewright.web.programs import schema
from examples.fennmark.people import MAKER
from tests.records.cast import AT
from tests.web.conftest import Served
from tests.web.test_programs import LAST

EXAMPLES = 25  # for each thing a program can ask; more by --hypothesis-profile in make endurance
TORN = b'--x\r\nContent-Disposition: form-data; name="sheet"; filename="a"\r\n'
described = schemathesis.openapi.from_dict(schema())


@pytest.fixture(scope="module", name="key")
def _key(served: Served) -> Iterator[str]:
    open_book(served.book)
    _, key = make_token(Act(MAKER, AT), "everything", MAKER, tuple(May), LAST)
    connections.close_all()
    yield key
    open_book(served.book, write=False)
    assert check().complaints == ()
    torn = [row.number for row in models.Event.objects.order_by("number") if not row.body]
    assert torn == []


@described.parametrize()
@settings(max_examples=EXAMPLES, deadline=None, suppress_health_check=list(HealthCheck))
def test_no_request_is_a_fault_of_ours(case: schemathesis.Case, served: Served, key: str) -> None:
    answer = case.call(base_url=served.address, headers={"Authorization": f"Bearer {key}"})
    assert answer.status_code < 500, answer.text
    if answer.status_code >= 400 and answer.status_code != 405:  # a verb nobody offers is refused by the library
        assert answer.json()["errors"]


def test_broken_bodies_are_refused(served: Served, key: str) -> None:
    for kind in ("multipart/form-data", "multipart/form-data; boundary=x", "application/json", "text/plain"):
        for body in (b"", b"\x00\xff", b'--x\r\nContent-Disposition: form-data; name="sheet"; filename="a"\r\n', b"{"):
            answer = requests.post(
                f"{served.address}/programs/1/evidence/dimensions",
                data=body,
                headers={"Authorization": f"Bearer {key}", "Once": "broken", "Content-Type": kind},
                timeout=20,
            )
            assert 400 <= answer.status_code < 500, (kind, body, answer.text)
