"""A desk whose database server went away says so on a page, and to programs in fields; nothing is half written."""

import pytest
from django.db import connection, connections
from django.test import Client

from bladewright.records.checking import check
from bladewright.records.opening import Book, open_book
from tests.records.cast import OFFICE
from tests.web.conftest import Enter

pytestmark = pytest.mark.book("postgresql")


def test_a_server_that_went_away_is_told_and_comes_back(shop_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    before = client.get("/").status_code
    connection.close()
    connections.settings["default"]["OPTIONS"]["host"] = "/nowhere/at/all"
    page = client.get("/")
    assert page.status_code == 507
    assert "the server does not answer" in page.content.decode()
    program = Client().get("/programs/1/blades", headers={"Authorization": "Bearer of-nothing"})
    assert program.status_code == 507
    assert "BLADEWRIGHT_POSTGRES" in program.json()["errors"][0]["fix"]
    open_book(shop_desk.folder)
    assert client.get("/").status_code == before
    assert check().sound
