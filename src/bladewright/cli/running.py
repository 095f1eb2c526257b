"""The command line as a whole: its commands in the order of the job, and how an error reaches a person."""

import json
import sys
import traceback

import typer

from bladewright.errors import BadInput, BladewrightError, BookDamaged, ComputerRefused, SeveralBadInputs

OUR_FAULT = 3


def run() -> None:
    """Parse the arguments, run the command, turn errors into DESIGN's exit codes: 0, 1, 2, 3."""
    from bladewright.cli.commands import app

    try:
        _refuse_torn_text(sys.argv[1:])
        code = app(standalone_mode=not _for_programs())  # for programs, errors and exit codes come back here
        raise SystemExit(code or 0)
    except BladewrightError as error:
        _report(error)
        raise SystemExit(error.exit_code) from None
    except BrokenPipeError:
        raise SystemExit(0) from None
    except OSError as error:
        _report(ComputerRefused.because(error))
        raise SystemExit(BadInput.exit_code) from None
    except Exception as error:
        if (said := getattr(error, "format_message", None)) is not None:  # a wrong option or argument, as typer says it
            _report(BadInput(said(), field="command line", fix="see the command with --help"))
            raise SystemExit(BadInput.exit_code) from None
        if (damage := _of_the_book(error)) is not None:
            _report(damage)
            raise SystemExit(damage.exit_code) from None
        traceback.print_exc()
        typer.echo(f"\nThis is a fault of bladewright, not yours: {error}. Nothing was half written.", err=True)
        raise SystemExit(OUR_FAULT) from None


def _for_programs() -> bool:
    return "--json" in sys.argv


def _refuse_torn_text(arguments: list[str]) -> None:
    """What is not text in this computer's encoding cannot be written in a book nor found in one."""
    for argument in arguments:
        if not argument.isascii() and argument.encode("utf-8", "replace").decode("utf-8") != argument:
            raise BadInput(
                "holds bytes that are no text",
                field="command line",
                value=argument.encode("utf-8", "backslashreplace").decode("utf-8"),
                allowed="UTF-8 text",
                fix="type the name again; give a file with such a name another one",
            )


def _of_the_book(error: Exception) -> BladewrightError | None:
    """What is wrong with the open book or its disk, if something is: then it is no fault of the program."""
    if "bladewright.records.opening" not in sys.modules:
        return None
    from django.db import Error

    from bladewright.records.book import opened
    from bladewright.records.checking import refuse_disagreeing
    from bladewright.records.writing import said

    try:
        if isinstance(error, Error):
            return said(error, opened().tables)
        refuse_disagreeing()
    except BookDamaged as damage:
        return damage
    except Exception:  # no book is open, or it cannot even be checked: the first error is the one to tell
        return None
    return None


def _report(error: BladewrightError) -> None:
    if _for_programs():
        errors = error.errors if isinstance(error, SeveralBadInputs) else (error,)
        typer.echo(json.dumps({"errors": [item.fields() for item in errors]}, default=str), err=True)
    else:
        typer.echo(str(error), err=True)
