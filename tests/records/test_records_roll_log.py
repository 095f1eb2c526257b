"""A roll's log kept at the desk: begun, out, back in, used up; each step a file that says what the one before did."""

import datetime
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from bladewright.errors import AlreadyEntered, BadInput, MissingInput, NotAuthorised, Outdated
from bladewright.evidence.freezer_log import Roll
from bladewright.records.acts import Act
from bladewright.records.adhesive_on_file import adhesive_on_file, roll_on_file
from bladewright.records.blades import start_blade, use_lot
from bladewright.records.lots import receive_lot
from bladewright.records.opening import Book
from bladewright.records.ready import models
from bladewright.records.roll_log import begin_roll_log, finish_roll, move_roll
from bladewright.records.shop_files import contents, history, keep_shop_file, newest
from bladewright.records.shop_kinds import FREEZER, LOGGER, ROLL, RULE
from bladewright.records.writing import newest_about
from tests.records.cast import AT, ENGINEER, INSPECTOR, MAKER, RECEIVER, by, everybody_but

pytestmark = pytest.mark.book

FENNMARK = Path(__file__).parents[2] / "examples" / "fennmark"
HOUR = datetime.timedelta(hours=1)


def later(hours: float, who: str = MAKER) -> Act:
    return by(who, at=AT + hours * HOUR)


def log() -> Roll:
    line = newest(ROLL, "F-70")
    assert line is not None
    found: Roll = contents(line)
    return found


@pytest.fixture(name="received")
def _received(book: Book) -> None:  # noqa: ARG001
    receive_lot(by(RECEIVER), "F-70", "film-epoxy", maker_lot="L-900", expires_on=datetime.date(2026, 9, 1))


@pytest.fixture(name="begun")
def _begun(received: None) -> None:  # noqa: ARG001
    begin_roll_log(by(RECEIVER), "F-70", AT, "9 h")


@pytest.mark.usefixtures("begun")
def test_a_roll_goes_out_comes_back_and_is_used_up() -> None:
    move_roll(later(24), "F-70", "out")
    move_roll(later(34), "F-70", "in", warmest="72 degF")
    finish_roll(later(48), "F-70")
    roll = log()
    assert (roll.lot, roll.before_receipt, roll.expires) == ("L-900", 9 * 3600.0, datetime.date(2026, 9, 1))
    assert [(one.move, one.at, one.by) for one in roll.entries] == [
        ("out", AT + 24 * HOUR, MAKER),
        ("in", AT + 34 * HOUR, MAKER),
    ]
    assert roll.used_up == datetime.date(2026, 5, 6)
    assert len(history(ROLL, "F-70")) == 4


@pytest.mark.usefixtures("begun")
def test_it_is_said_when_it_went_out_by_the_wall_and_never_ahead_of_the_clock() -> None:
    move_roll(later(24), "F-70", "out", since=datetime.datetime(2026, 5, 4, 21, 0))  # noqa: DTZ001
    assert log().entries[0].at == datetime.datetime(2026, 5, 4, 20, 0, tzinfo=datetime.UTC)
    with pytest.raises(BadInput) as caught:
        move_roll(later(1), "F-70", "in")  # before it went out
    assert caught.value.field == "entries.2"


@pytest.mark.usefixtures("begun")
def test_a_move_that_was_made_already_is_refused() -> None:
    with pytest.raises(BadInput) as caught:
        move_roll(later(1), "F-70", "in")
    assert (caught.value.field, caught.value.allowed) == ("move", "out")
    move_roll(later(2), "F-70", "out")
    with pytest.raises(BadInput) as caught:
        move_roll(later(3), "F-70", "out")
    assert caught.value.allowed == "back in"
    finish_roll(later(4), "F-70")
    with pytest.raises(BadInput, match="was used up on 2026-05-04"):
        finish_roll(later(5), "F-70")


@pytest.mark.usefixtures("begun")
def test_two_people_with_the_same_page_do_not_move_it_twice() -> None:
    seen = newest_about("F-70")
    move_roll(Act(MAKER, AT + HOUR, seen=seen), "F-70", "out")
    with pytest.raises(Outdated):
        move_roll(Act(RECEIVER, AT + HOUR, seen=seen), "F-70", "out")


@pytest.mark.usefixtures("begun")
def test_the_same_form_sent_twice_moves_it_once() -> None:
    move_roll(Act(MAKER, AT + HOUR, once="form-7"), "F-70", "out")
    with pytest.raises(AlreadyEntered):
        move_roll(Act(MAKER, AT + HOUR, once="form-7"), "F-70", "out")
    assert len(log().entries) == 1


@pytest.mark.parametrize("who", everybody_but(MAKER, RECEIVER))
@pytest.mark.usefixtures("begun")
def test_only_who_may_moves_a_roll(who: str) -> None:
    with pytest.raises(NotAuthorised):
        move_roll(later(1, who), "F-70", "out")
    assert len(history(ROLL, "F-70")) == 1


@pytest.mark.usefixtures("received")
def test_what_is_wrong_is_said_by_its_field() -> None:
    for act, field in (
        (lambda: begin_roll_log(by(RECEIVER), "F-99", AT), "lot"),
        (lambda: begin_roll_log(by(RECEIVER), "F-70", AT, "9 apples"), "before_receipt"),
        (lambda: move_roll(by(MAKER), "F-70", "out"), "roll"),
    ):
        with pytest.raises(BadInput) as caught:
            act()
        assert caught.value.field == field
    begin_roll_log(by(RECEIVER), "F-70", AT)
    assert log().before_receipt is None
    with pytest.raises(BadInput, match="has a log already"):
        begin_roll_log(by(RECEIVER), "F-70", AT)
    move_roll(later(1), "F-70", "out")
    with pytest.raises(BadInput) as caught:
        move_roll(later(2), "F-70", "in", warmest="warm")
    assert caught.value.field == "warmest"


def test_a_roll_received_without_its_makers_lot_gets_no_log(book: Book) -> None:  # noqa: ARG001
    receive_lot(by(RECEIVER), "F-70", "film-epoxy")
    with pytest.raises(MissingInput, match="without its maker's lot"):
        begin_roll_log(by(RECEIVER), "F-70", AT)


def _rule(folder: Path, text: str = "") -> Path:
    path = folder / "film.toml"
    path.write_text(
        'format = 1\n[counting]\nfilm = "FM film"\nmaker_limit = "240 h"\nmaker_warmest = "75 degF"\n'
        f'warm_up_least = "4 h"\nsource = "sheet 7"\n{text}'
    )
    return path


@pytest.mark.usefixtures("begun")
def test_hours_are_counted_on_what_is_on_file(tmp_path: Path) -> None:
    keep_shop_file(by(ENGINEER), RULE, _rule(tmp_path))
    move_roll(later(24), "F-70", "out")
    (one,) = adhesive_on_file(AT + 30 * HOUR).rolls
    assert one.standing.left is not None
    assert one.standing.left.value == pytest.approx(240.0 - 9.0 - 6.0)
    assert (one.material, one.standing.out_since) == ("film-epoxy", AT + 24 * HOUR)
    alone = roll_on_file("F-70", AT + 30 * HOUR)
    assert alone is not None
    assert alone.standing == one.standing
    assert roll_on_file("F-71", AT) is None


def test_the_drawings_own_limit_counts_where_it_is_stricter(shop: Book, tmp_path: Path) -> None:  # noqa: ARG001
    """FM-31 allows its film 240 h; a maker who allows 300 h does not lengthen that."""
    receive_lot(by(RECEIVER), "F-70", "film-epoxy", maker_lot="L-900", expires_on=datetime.date(2026, 9, 1))
    begin_roll_log(by(RECEIVER), "F-70", AT, "9 h")
    path = _rule(tmp_path)
    path.write_text(path.read_text().replace("240 h", "300 h"))
    keep_shop_file(by(ENGINEER), RULE, path)
    (one,) = adhesive_on_file(AT + HOUR).rolls
    assert one.standing.limit is not None
    assert one.standing.limit.value == 240.0


@pytest.mark.usefixtures("begun")
def test_of_two_rules_the_one_named_after_the_material_counts_and_else_none(tmp_path: Path) -> None:
    keep_shop_file(by(ENGINEER), RULE, _rule(tmp_path))
    other = tmp_path / "other.toml"
    other.write_text(_rule(tmp_path).read_text().replace("FM film", "another film"))
    keep_shop_file(by(ENGINEER), RULE, other)
    (one,) = adhesive_on_file(AT + HOUR).rolls
    assert one.standing.why.startswith("No counting rule of this film")
    other.write_text(other.read_text().replace("another film", "film-epoxy").replace("240 h", "100 h"))
    keep_shop_file(by(ENGINEER), RULE, other)
    (one,) = adhesive_on_file(AT + HOUR).rolls
    assert one.standing.limit is not None
    assert one.standing.limit.value == 100.0


def test_a_lot_the_book_says_was_built_in_was_used(batch: Book, tmp_path: Path) -> None:  # noqa: ARG001
    """Its acceptance test came after its first use; the roll's own log does not know of that use."""
    receive_lot(by(RECEIVER), "F-70", "film-epoxy", maker_lot="L-900", expires_on=datetime.date(2026, 9, 1))
    start_blade(by(MAKER), "C-1", "FM-31", "A")
    use_lot(by(MAKER), "C-1", "adhesive", "F-70")
    limits = 'coupons_least = 1\nshear_mean_least = "1 MPa"\nshear_single_least = "1 MPa"\nadhesion_greatest = "0 %"\n'
    keep_shop_file(by(ENGINEER), RULE, _rule(tmp_path, f"[counting.acceptance]\n{limits}"))
    whole = '{ CF = "100 %", SCF = "0 %", AF = "0 %", void = "0 %" }'
    roll = tmp_path / "F-70.toml"
    roll.write_text(
        'format = 1\nroll = "F-70"\nlot = "L-900"\nreceived = 2026-05-01T08:00:00+01:00\nbefore_receipt = "9 h"\n'
        'expires = 2026-09-01\n[[acceptance]]\nlot = "L-900"\ndate = 2026-05-05\nsigned_by = "Isla Gauge"\n'
        f'shear = [{{ strength = "30 MPa", modes = {whole} }}]\n'
    )
    keep_shop_file(later(30, RECEIVER), ROLL, roll)
    (one,) = adhesive_on_file(AT + 30 * HOUR).rolls
    assert not one.standing.usable
    assert "first used on 2026-05-04" in one.standing.why


@pytest.mark.usefixtures("begun")
def test_hours_of_a_warm_freezer_count_and_an_unwatched_one_bars_the_roll(tmp_path: Path) -> None:
    watch = 'storage_warmest = "0 degF"\nstorage_interval = "1 h"\nstorage_read_every = "168 h"\n'
    keep_shop_file(by(ENGINEER), RULE, _rule(tmp_path, watch))
    assert not adhesive_on_file(AT + HOUR).rolls[0].standing.usable
    keep_shop_file(by(INSPECTOR), LOGGER, FENNMARK / "freezer-logger.toml")
    rows = [f"04/05/2026,{8 + n:02d}:00:00,{14 if n == 3 else -6}" for n in range(10)]
    freezer = tmp_path / "freezer.csv"
    freezer.write_text("\n".join(["Freezer logger,store", "Date,Clock,Air", ",,degF", *rows]) + "\n")
    keep_shop_file(later(12, RECEIVER), FREEZER, freezer, described="film freezer logger")
    (one,) = adhesive_on_file(AT + 12 * HOUR).rolls
    assert one.standing.usable
    assert one.standing.counted is not None
    assert one.standing.counted.value == pytest.approx(9.0 + 2.0)  # from the last cold sample to the first cold one


def test_a_freezer_log_without_a_sensor_of_its_air_is_not_kept(book: Book, tmp_path: Path) -> None:  # noqa: ARG001
    how = tmp_path / "how.toml"
    how.write_text((FENNMARK / "freezer-logger.toml").read_text().replace('role = "air"', 'role = "mould"\nzone = "1"'))
    freezer = tmp_path / "freezer.csv"
    freezer.write_text("Freezer logger,store\nDate,Clock,Air\n,,degF\n04/05/2026,08:00:00,-6\n")
    with pytest.raises(BadInput, match="no channel of the freezer's air"):
        keep_shop_file(by(INSPECTOR), FREEZER, freezer, how)
    assert not models.ShopFile.objects.exists()


@given(st.datetimes(datetime.datetime(2026, 1, 1), datetime.datetime(2027, 1, 1)))  # noqa: DTZ001
def test_a_time_on_the_wall_is_never_taken_later_than_it_was(wall: datetime.datetime) -> None:
    """Of an hour the clock shows twice the earlier one, so that no hour out goes uncounted."""
    book = Book(Path("nowhere"), "1", "shop", "Europe/London")
    moment = book.on_wall(wall)
    both = {book.clock(moment + datetime.timedelta(hours=h)).replace(tzinfo=None) for h in (0, 1)}
    assert wall in both
    assert moment <= wall.replace(tzinfo=datetime.UTC)
