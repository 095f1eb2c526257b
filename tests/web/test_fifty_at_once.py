"""Fifty people at once at the served desk: what each enters is there once; of fifty who decide on one page one does."""

import re
import threading
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor

import pytest
import requests
from django.db import connections

from bladewright.records.checking import check
from bladewright.records.opening import open_book
from bladewright.records.ready import models
from examples.fennmark.people import MAKER, RECEIVER, SECOND_MAKER
from tests.web.conftest import SECRET, Served

PEOPLE = 50
HIDDEN = re.compile(r'<input type="hidden" name="([^"]+)" value="([^"]*)"')


def seat(served: Served, name: str) -> requests.Session:
    """Somebody who has come in."""
    session = requests.Session()
    text = session.get(f"{served.address}/enter/", timeout=60).text
    told = dict(HIDDEN.findall(text)) | {"name": name, "secret": SECRET}
    answer = session.post(f"{served.address}/enter/", told, timeout=60, allow_redirects=False)
    assert answer.status_code == 302, answer.text
    return session


def form_of(session: requests.Session, served: Served, page: str, action: str) -> dict[str, str]:
    """The hidden entries of one form of a page."""
    text = session.get(served.address + page, timeout=60).text
    found = re.search(rf'<form[^>]*action="{re.escape(action)}"[^>]*>(.*?)</form>', text, re.S)
    assert found is not None, f"no form for {action} on {page}"
    return dict(HIDDEN.findall(found[1]))


def all_at_once(work: Callable[[int], requests.Response]) -> list[requests.Response]:
    """Each does the same at the same moment."""
    together = threading.Barrier(PEOPLE)

    def one(number: int) -> requests.Response:
        together.wait(60)
        return work(number)

    with ThreadPoolExecutor(PEOPLE) as pool:
        return list(pool.map(one, range(PEOPLE)))


@pytest.fixture(scope="module", name="seats")
def _seats(served: Served) -> list[requests.Session]:
    """Fifty tablets; a person may hold several."""
    first = {name: seat(served, name) for name in (RECEIVER, MAKER, SECOND_MAKER)}
    found = []
    for number in range(PEOPLE):
        session = requests.Session()
        session.cookies.update(first[(RECEIVER, MAKER, SECOND_MAKER)[number % 3]].cookies)
        found.append(session)
    return found


def test_what_fifty_people_enter_is_there_once(served: Served, seats: list[requests.Session]) -> None:
    receiver = seats[0]
    forms = [form_of(receiver, served, "/materials/receive/", "/materials/receive/enter/") for _ in range(PEOPLE)]

    def enter(number: int) -> requests.Response:
        told = forms[number] | {"lot": f"X-{number:03d}", "material": "film-epoxy", "maker_lot": "BF-1"}
        twice = [
            requests.post(f"{served.address}/materials/receive/enter/", told, cookies=receiver.cookies, timeout=120)
            for _ in range(2)
        ]
        return twice[1]

    answers = all_at_once(enter)
    assert {answer.status_code for answer in answers} == {200}
    open_book(served.book, write=False)
    try:
        lots = models.Lot.objects.filter(lot__startswith="X-").count()
        events = models.Event.objects.filter(kind="lot received", subject__startswith="X-").count()
        assert (lots, events) == (PEOPLE, PEOPLE)
        assert check().complaints == ()
    finally:
        connections.close_all()


def test_of_fifty_who_decide_on_one_page_one_does(served: Served, seats: list[requests.Session]) -> None:
    page, action = "/materials/lots/R-124/", "/materials/out/R-124/"
    makers = [session for number, session in enumerate(seats) if number % 3 == 0]  # those of who receives
    forms = [form_of(makers[0], served, page, action) for _ in range(PEOPLE)]

    def take(number: int) -> requests.Response:
        session = makers[number % len(makers)]
        told = forms[number] | {"since": "2026-05-28T07:55"}
        return requests.post(served.address + action, told, cookies=session.cookies, timeout=120, allow_redirects=False)

    statuses = sorted(answer.status_code for answer in all_at_once(take))
    assert statuses[0] == 303, statuses
    assert statuses[1:].count(303) == 0, statuses
    assert set(statuses[1:]) <= {409, 422}, statuses
