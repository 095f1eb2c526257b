"""The log of one roll, kept from the desk: begun when it is received, out and back in, used up."""

import datetime
from collections.abc import Callable
from typing import Any, Final, Literal

import tomlkit

from bladewright import units
from bladewright.errors import BadInput, MissingInput
from bladewright.evidence.freezer_log import Roll
from bladewright.records.acts import Act
from bladewright.records.book import opened
from bladewright.records.lots import lot_named
from bladewright.records.shop_files import ShopFileLine, contents, keep_given, newest, stored
from bladewright.records.shop_kinds import KINDS, ROLL, Given
from bladewright.records.writing import refuse_repeated

_KIND: Final = KINDS[ROLL]


def begin_roll_log(act: Act, lot: str, received: datetime.datetime, before_receipt: str = "") -> ShopFileLine:
    """Begin the log of a received roll. ``before_receipt`` is like "9 h"; empty: nobody knows, the worst case."""
    refuse_repeated(act, lot)
    row = lot_named(lot)
    if newest(ROLL, lot) is not None:
        raise BadInput(
            "has a log already", field="lot", value=lot, allowed="one log for each roll", fix="go on with that one"
        )
    if not row.maker_lot:
        raise MissingInput(
            "was received without its maker's lot", field="lot", value=lot, allowed="a roll whose maker's lot is known",
            fix="find the maker's lot on the roll, and keep a log file that names it",
        )  # fmt: skip
    document = tomlkit.document()
    document.add(tomlkit.comment(f"The freezer log of roll {lot}, kept at the desk."))
    document["format"] = 1
    document["roll"], document["lot"] = lot, row.maker_lot
    document["received"] = _wall(received)
    if before_receipt:
        _refuse_no_kind(before_receipt, "time", "before_receipt")
        document["before_receipt"] = before_receipt
    if row.expires_on is not None:
        document["expires"] = row.expires_on
    return keep_given(act, _KIND, Given(f"roll-{lot}.toml", tomlkit.dumps(document).encode("utf-8")))


def move_roll(
    act: Act, roll: str, move: Literal["out", "in"], *, warmest: str = "", since: datetime.datetime | None = None
) -> ShopFileLine:
    """Log that a roll goes out of the freezer or comes back; ``warmest`` of the room meanwhile, like "72 degF".

    ``since`` is when it went out, by the clock on the shop's wall; a return counts from the moment it is entered.
    """
    at = act.at if since is None or move == "in" else opened().on_wall(since)

    def moved(document: Any, log: Roll) -> None:
        out = bool(log.entries) and log.entries[-1].move == "out"
        if out == (move == "out"):
            raise BadInput(
                f"is {'out of' if out else 'in'} the freezer by its log", field="move", value=move,
                allowed="back in" if out else "out",
                fix="log what was missed first, with a log file that says since when",
            )  # fmt: skip
        last = max((log.received, *(one.at for one in log.entries)))
        same_minute = datetime.timedelta(0) < last - at < datetime.timedelta(minutes=1)  # a wall shows no seconds
        entry = tomlkit.table()
        entry["move"], entry["at"], entry["by"] = move, _wall(last if same_minute else at), act.by
        if warmest and move == "in":
            _refuse_no_kind(warmest, "temperature", "warmest")
            entry["warmest"] = warmest
        document.setdefault("entries", tomlkit.aot()).append(entry)

    return _changed(act, roll, moved)


def finish_roll(act: Act, roll: str) -> ShopFileLine:
    """Say that the last of a roll was built in or thrown away today."""

    def finished(document: Any, log: Roll) -> None:
        if log.used_up is not None:
            raise BadInput(
                f"was used up on {log.used_up.isoformat()}",
                field="roll",
                value=roll,
                allowed="a roll that has some left",
            )
        document["used_up"] = opened().day(act.at)

    return _changed(act, roll, finished)


def _changed(act: Act, roll: str, change: Callable[[Any, Roll], None]) -> ShopFileLine:
    refuse_repeated(act, roll)
    line = newest(ROLL, roll)
    if line is None:
        raise MissingInput(
            "has no log", field="roll", value=roll, allowed="a roll whose log is on file", fix="begin its log first"
        )
    given = stored(line.sha256)
    document = tomlkit.parse(given.data.decode("utf-8-sig"))
    change(document, contents(line))
    return keep_given(act, _KIND, Given(given.name, tomlkit.dumps(document).encode("utf-8")))


def _wall(moment: datetime.datetime) -> datetime.datetime:
    """By the shop's clock with that day's offset, to the second."""
    clock = opened().clock(moment).replace(microsecond=0)
    return clock.replace(tzinfo=datetime.timezone(clock.utcoffset() or datetime.timedelta(0)))


def _refuse_no_kind(text: str, kind: str, field: str) -> None:
    try:
        units.to_si(text, kind)
    except BadInput as error:
        error.field = field
        raise
