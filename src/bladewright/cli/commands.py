"""Every command, in the order of the job. Importing this imports no numbers, database or papers."""

import typer

from bladewright.cli.add_person import add_person
from bladewright.cli.approve_drawing import approve_drawing
from bladewright.cli.as_built import as_built
from bladewright.cli.authorise import authorise
from bladewright.cli.check_drawing import check_drawing
from bladewright.cli.file_drawing import file_drawing
from bladewright.cli.handle_force import handle_force
from bladewright.cli.judge_log import judge_log
from bladewright.cli.new_book import new_book
from bladewright.cli.properties import properties
from bladewright.cli.receive import receive
from bladewright.cli.selfcheck import selfcheck
from bladewright.cli.start_blade import start_blade
from bladewright.cli.use_lot import use_lot

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

DRAWING, BOOK, MAKING, PROOF, TRUST = "What to build", "The book", "What was made", "Is it good", "Trust"

for panel, commands in {
    DRAWING: (check_drawing, properties, handle_force, as_built),
    BOOK: (new_book, add_person, authorise, file_drawing, approve_drawing),
    MAKING: (receive, start_blade, use_lot),
    PROOF: (judge_log,),
    TRUST: (selfcheck,),
}.items():
    for command in commands:
        app.command(command.__name__.replace("_", "-"), rich_help_panel=panel)(command)
