"""Reading a log of a million rows and thirteen columns: ours with hash, checks and UTC, against bare polars."""

import io

import numpy as np
import polars as pl

from benchmarks.side_by_side import Line, best_of, line
from bladewright.evidence.cure_log import read_cure_log
from bladewright.evidence.description import LoggerDescription, parse_logger_description
from bladewright.evidence.records import Floats

ROWS = 1_000_000
CHANNELS = 12
ZONE = "America/Detroit"
ROUNDS = 7


def log_bytes(rows: int = ROWS) -> bytes:
    """One reading a second of twelve sensors, with a missing word here and there."""
    chance = np.random.default_rng(31)
    stamps = (np.datetime64("2026-02-02T06:00:00", "s") + np.arange(rows)).astype("datetime64[ms]")
    columns = {"time": pl.Series(stamps).dt.strftime("%Y-%m-%d %H:%M:%S")}
    for i in range(CHANNELS):
        readings = pl.Series(np.round(120.0 + chance.normal(0.0, 1.0, rows), 2)).cast(pl.String)
        columns[f"Z{i + 1}"] = readings.set(pl.Series(chance.random(rows) < 1e-4), "open")
    text = io.BytesIO()
    pl.DataFrame(columns).write_csv(text)
    return text.getvalue()


def description() -> LoggerDescription:
    """How that log is written."""
    channels = "".join(
        f'[[columns]]\ncolumn = "Z{i + 1}"\nrole = "mould"\nzone = "{i + 1}"\nunit = "degC"\n' for i in range(CHANNELS)
    )
    text = f"""
format = 1
name = "benchmark log"
missing = ["open"]
[file]
encoding = "utf-8"
delimiter = "comma"
decimal_mark = "point"
[table]
names_row = 1
first_row = 2
[time]
columns = ["time"]
format = "%Y-%m-%d %H:%M:%S"
zone = "{ZONE}"
file_order_is_time_order = true
{channels}"""
    return parse_logger_description(text.encode(), "benchmark.toml")


def by_polars(data: bytes) -> tuple[Floats, Floats]:
    """The same two arrays, seconds from the first UTC stamp and a matrix of readings; nothing checked or hashed."""
    types = {"time": pl.String} | {f"Z{i + 1}": pl.Float64 for i in range(CHANNELS)}
    frame = pl.read_csv(data, schema_overrides=types, null_values=["open"])
    stamp = pl.col("time").str.to_datetime("%Y-%m-%d %H:%M:%S", time_unit="us")
    utc = (
        frame.select(stamp.dt.replace_time_zone(ZONE).dt.convert_time_zone("UTC").to_physical()).to_series().to_numpy()
    )
    return (utc - utc[0]) / 1e6, frame.drop("time").to_numpy(order="fortran")


def run() -> list[Line]:
    """One line for the table of benchmarks; both sides in turn, the best of each, so that other work falls on both."""
    data, how = log_bytes(), description()
    log, (seconds, readings) = read_cure_log(data, how), by_polars(data)
    np.testing.assert_array_equal(log.seconds, seconds)
    np.testing.assert_array_equal(log.values, readings + 273.15)
    times = best_of(ROUNDS, lambda: read_cure_log(data, how), lambda: by_polars(data))
    return [line("read a cure log of 1e6 rows x 13, against polars to the same types", *times, "<= 2")]


if __name__ == "__main__":
    print(run())
