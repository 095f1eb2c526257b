"""Every command, in the order of the job. Importing this imports no numbers, database or papers."""

import typer

from bladewright.cli import (
    as_built,
    check_drawing,
    handle_force,
    properties,
    selfcheck,
)

app = typer.Typer(
    name="bladewright",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode="markdown",
    context_settings={"help_option_names": ["-h", "--help"]},
    help=(
        "The engineering desk and record book of a shop that builds bonded-aluminium rotor blades. "
        "It advises; a named, authorised person decides and signs. Not an airworthiness release."
    ),
)

DRAWING = "What to build"
CHECKS = "Trust"

app.command("check-drawing", rich_help_panel=DRAWING)(check_drawing.check_drawing)
app.command("properties", rich_help_panel=DRAWING)(properties.properties)
app.command("handle-force", rich_help_panel=DRAWING)(handle_force.handle_force)
app.command("as-built", rich_help_panel=DRAWING)(as_built.as_built)
app.command("selfcheck", rich_help_panel=CHECKS)(selfcheck.selfcheck)
