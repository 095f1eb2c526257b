"""Every command, in the order of the job. Importing this imports no numbers, database or papers."""

import typer

from bladewright.cli.as_built import as_built
from bladewright.cli.check_drawing import check_drawing
from bladewright.cli.handle_force import handle_force
from bladewright.cli.properties import properties
from bladewright.cli.selfcheck import selfcheck

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

app.command("check-drawing", rich_help_panel=DRAWING)(check_drawing)
app.command("properties", rich_help_panel=DRAWING)(properties)
app.command("handle-force", rich_help_panel=DRAWING)(handle_force)
app.command("as-built", rich_help_panel=DRAWING)(as_built)
app.command("selfcheck", rich_help_panel=CHECKS)(selfcheck)
