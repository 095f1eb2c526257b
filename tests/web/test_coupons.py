"""Looking at coupons: everybody who has come in may; the run says since when they drift, one coupon shows its faces."""

import json
import re

import pytest
from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext

from bladewright.records.opening import Book
from bladewright.records.ready import models
from tests.records.cast import MAKER, RELEASER
from tests.web.conftest import Enter

#: of the invented shop
INSPECTOR, OFFICE = "Wenda Harkthwaite", "Brona Lindlesk"


def coupon_of(serial: str) -> str:
    """The hash of a blade's coupon."""
    rows = models.Evidence.objects.filter(kind="coupon", blades__blade__serial=serial)
    return rows.values_list("file__sha256", flat=True)[0]


@pytest.mark.parametrize("name", [MAKER, RELEASER])
def test_an_empty_book_says_what_a_coupon_is_for(shop_desk: Book, enter: Enter, name: str) -> None:
    text = enter(name).get("/coupons/").content.decode()
    assert "No coupon is on file" in text
    assert "Tear one of the two" in text


def test_the_list_has_the_newest_first_and_finds_by_serial(demo_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    text = client.get("/coupons/").content.decode()
    serials = re.findall(r'<th scope="row"><a href="/coupons/[0-9a-f]{64}/">(FM31-\d+)</a></th><td>root', text)
    assert serials == [f"FM31-01{number:02}" for number in range(16, 6, -1)]
    assert "No change is resolved over 10 coupons" in text
    narrowed = client.get("/coupons/?serial=FM31-0109").content.decode()
    assert "FM31-0109" in narrowed
    assert "No coupon of a serial" in client.get("/coupons/?serial=X-1").content.decode()


def test_one_coupon_shows_curve_faces_and_what_was_found(demo_desk: Book, enter: Enter) -> None:
    client, sha = enter(OFFICE), coupon_of("FM31-0109")
    text = client.get(f"/coupons/{sha}/").content.decode()
    assert "Adhesion failure outlined over 62.2 %" in text
    assert "Stop the line" in text
    assert "62.18 % ± 0.63" in text
    assert "An inspector adds photographs." in text
    chart = json.loads(client.get(f"/coupons/{sha}/curve/").content)
    assert chart["layout"]["xaxis"]["title"]["text"] == "length peeled, mm"
    assert "lbf/in" not in json.dumps(chart["layout"])


def test_the_run_is_drawn_in_the_persons_units(demo_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    address = "/coupons/run/?drawing=FM-31&end=root&by=adhesive+lot"
    names = [trace.get("name") for trace in json.loads(client.get(address).content)["data"]]
    assert names[:2] == ["adhesive lot R-118", "adhesive lot R-121"]
    client.post("/preferences/", {"system": "inch", "theme": "", "back": "/"})
    assert json.loads(client.get(address).content)["layout"]["yaxis"]["title"]["text"] == "mean peel, lbf/in"


def test_a_photograph_is_a_picture_and_nothing_else(demo_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    page = client.get(f"/coupons/{coupon_of('FM31-0109')}/").content.decode()
    (address,) = set(re.findall(r'<image href="([^"]+)"', page))
    answer = client.get(address)
    assert answer.content.startswith(b"\x89PNG")
    assert answer.headers["Content-Type"] == "image/png"
    assert answer.headers["X-Content-Type-Options"] == "nosniff"
    assert answer.headers["Content-Security-Policy"] == "default-src 'none'; sandbox"
    assert Client().get(address).status_code == 401


def test_only_photographs_are_served_so(demo_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    for row in models.StoredFile.objects.exclude(name__endswith=".png"):
        assert client.get(f"/coupons/photographs/{row.sha256}/").status_code == 404


def test_what_is_not_there_is_said(demo_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    for address in (
        f"/coupons/{'0' * 64}/",
        "/coupons/x/",
        "/coupons/photographs/x/",
        "/coupons/photographs/x/outline/",
    ):
        assert client.get(address).status_code == 404


def test_the_list_asks_no_more_for_more_coupons(demo_desk: Book, enter: Enter) -> None:
    client = enter(OFFICE)
    client.get("/coupons/")

    def asked(address: str) -> int:
        with CaptureQueriesContext(connection) as queries:
            client.get(address)
        return len(queries)

    assert asked("/coupons/") == asked("/coupons/?serial=FM31-0109") <= 20
