"""The command line as a whole: its commands in the order of the job, and how an error reaches a person."""

import json
import sys
import traceback

import typer

from bladewright.errors import BladewrightError, SeveralBadInputs

OUR_FAULT = 3


def run() -> None:
    """Parse the arguments, run the command, turn errors into DESIGN's exit codes: 0, 1, 2, 3."""
    from bladewright.cli.commands import app

    try:
        app()
    except BladewrightError as error:
        _report(error)
        raise SystemExit(error.exit_code) from None
    except BrokenPipeError:
        raise SystemExit(0) from None
    except Exception as error:
        traceback.print_exc()
        typer.echo(f"\nThis is a fault of bladewright, not yours: {error}. Nothing was half written.", err=True)
        raise SystemExit(OUR_FAULT) from None


def _report(error: BladewrightError) -> None:
    if "--json" in sys.argv:
        errors = error.errors if isinstance(error, SeveralBadInputs) else (error,)
        typer.echo(json.dumps({"errors": [item.fields() for item in errors]}, default=str), err=True)
    else:
        typer.echo(str(error), err=True)
