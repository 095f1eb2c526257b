"""The chain's rule against an outside example of its canonical text, and against hand-made links."""

import datetime
import json

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bladewright.figures import canonical, digest
from bladewright.records import chain

RECORDS = (
    {"event": "receive", "lot": "AF-2207", "qty": 12.5, "seq": 1},
    {"event": "cure", "run": "OV-044", "seq": 2, "serial": "B-0101"},
    {"event": "coupon", "peel_N_per_mm": 3.42, "seq": 3, "serial": "B-0101"},
)


def links(records: list[dict[str, object]]) -> list[str]:
    """The hash after each record."""
    found = [chain.START]
    for record in records:
        found.append(chain.link(found[-1], record))
    return found[1:]


@pytest.mark.outside
def test_canonical_json_is_that_of_rfc_8785() -> None:
    """A. Rundgren, B. Jordan, S. Erdtman, RFC 8785, JSON Canonicalization Scheme, 2020, 3.2.

    The sample as read in open test files.
    """
    sample = (
        '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],'
        '"string":"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/","literals":[null,true,false]}'
    )
    expected = (
        '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
        '"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )
    found = canonical(json.loads(sample))
    assert found.decode("utf-8") == expected
    assert digest(found) == "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb"


def test_three_links_by_a_second_reckoning() -> None:
    """The rule is ours; the hashes were computed apart from this program, with a plain SHA-256."""
    assert links(list(RECORDS)) == [
        "5d538057e5ff4a486465c1d6f9335b15dcc668c3b0dbac5948f3c34c0ff27a64",
        "36c7087f7d2d1cf2375f6553e2dec77b2a84525c8d859a5e38a72fed45b16ae2",
        "ce1ac1ad11a95c608764e9a54a783f7db62c4421297ca56f6ef367d9117495e3",
    ]


def test_a_change_moves_every_later_link_and_no_earlier_one() -> None:
    before = links(list(RECORDS))
    after = links([RECORDS[0], RECORDS[1] | {"run": "OV-045"}, RECORDS[2]])
    assert [old == new for old, new in zip(before, after, strict=True)] == [True, False, False]
    assert links([RECORDS[0], RECORDS[2], RECORDS[1]])[-1] != before[-1]


@settings(max_examples=60)
@given(
    st.datetimes(
        min_value=datetime.datetime(1970, 1, 1),  # noqa: DTZ001
        max_value=datetime.datetime(2200, 1, 1),  # noqa: DTZ001
        timezones=st.timezones(),
    ),
    st.timedeltas(min_value=datetime.timedelta(0), max_value=datetime.timedelta(days=400)),
)
def test_written_times_come_back_and_sort_as_they_happened(at: datetime.datetime, wait: datetime.timedelta) -> None:
    text, later = chain.utc_text(at), chain.utc_text(at.astimezone(datetime.UTC) + wait)
    assert chain.moment(text) == at.astimezone(datetime.UTC)
    assert (text < later) == (wait > datetime.timedelta(0))
