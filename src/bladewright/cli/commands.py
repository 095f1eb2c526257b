"""Every command, in the order of the job. Importing this imports no numbers, database or papers."""

from collections.abc import Callable

import typer

from bladewright.cli.about import about
from bladewright.cli.add_aircraft import add_aircraft
from bladewright.cli.add_owner import add_owner
from bladewright.cli.add_person import add_person
from bladewright.cli.adhesive_hours import adhesive_hours
from bladewright.cli.affected_runs import affected_runs
from bladewright.cli.approve_drawing import approve_drawing
from bladewright.cli.as_built import as_built
from bladewright.cli.authorise import authorise
from bladewright.cli.blades import blades
from bladewright.cli.check_book import check_book
from bladewright.cli.check_drawing import check_drawing
from bladewright.cli.compare_change import compare_change
from bladewright.cli.cure_cost import cure_cost
from bladewright.cli.damage import damage
from bladewright.cli.desk import desk
from bladewright.cli.deviate import deviate
from bladewright.cli.file_coupon import file_coupon
from bladewright.cli.file_cure import file_cure
from bladewright.cli.file_dimensions import file_dimensions
from bladewright.cli.file_drawing import file_drawing
from bladewright.cli.file_photograph import file_photograph
from bladewright.cli.file_void_map import file_void_map
from bladewright.cli.file_weighing import file_weighing
from bladewright.cli.fit_oven import fit_oven
from bladewright.cli.flight_report import flight_report
from bladewright.cli.flutter import flutter
from bladewright.cli.form_set import form_set
from bladewright.cli.frequencies import frequencies
from bladewright.cli.handle_force import handle_force
from bladewright.cli.install import install
from bladewright.cli.judge import judge
from bladewright.cli.judge_log import judge_log
from bladewright.cli.judge_survey import judge_survey
from bladewright.cli.life import life
from bladewright.cli.match import match
from bladewright.cli.new_book import new_book
from bladewright.cli.oven_ready import oven_ready
from bladewright.cli.plan_cure import plan_cure
from bladewright.cli.print_blade import print_blade
from bladewright.cli.print_set import print_set
from bladewright.cli.properties import properties
from bladewright.cli.receive import receive
from bladewright.cli.remove import remove
from bladewright.cli.selfcheck import selfcheck
from bladewright.cli.sensitivities import sensitivities
from bladewright.cli.set_secret import set_secret
from bladewright.cli.sign import sign
from bladewright.cli.sign_out import sign_out
from bladewright.cli.size_reflex import size_reflex
from bladewright.cli.start_blade import start_blade
from bladewright.cli.strength import strength
from bladewright.cli.structure_report import structure_report
from bladewright.cli.suggest_logger import suggest_logger
from bladewright.cli.suspect_sensors import suspect_sensors
from bladewright.cli.upgrade_book import upgrade_book
from bladewright.cli.use_lot import use_lot
from bladewright.cli.watch_cure import watch_cure
from bladewright.cli.where_evidence import where_evidence
from bladewright.cli.where_lot import where_lot
from bladewright.cli.withdraw import withdraw

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

PANELS: dict[str, tuple[Callable[..., None], ...]] = {
    "What to build": (
        check_drawing,
        properties,
        handle_force,
        size_reflex,
        as_built,
        compare_change,
        sensitivities,
        flight_report,
        frequencies,
        flutter,
        strength,
        life,
        structure_report,
    ),
    "How to make it": (fit_oven, plan_cure),
    "The book": (
        new_book,
        add_person,
        authorise,
        withdraw,
        set_secret,
        file_drawing,
        approve_drawing,
        check_book,
        upgrade_book,
    ),
    "What was made": (
        receive,
        adhesive_hours,
        judge_survey,
        oven_ready,
        start_blade,
        use_lot,
        file_cure,
        file_coupon,
        file_photograph,
        file_dimensions,
        file_weighing,
        file_void_map,
        sign,
    ),
    "Is it good": (
        suggest_logger,
        watch_cure,
        judge_log,
        suspect_sensors,
        cure_cost,
        affected_runs,
        damage,
        judge,
        deviate,
        blades,
        about,
    ),
    "Whom it flies with": (match, form_set, sign_out),
    "Its flying life": (add_owner, add_aircraft, install, remove, where_lot, where_evidence),
    "Papers": (print_blade, print_set),
    "The program itself": (desk, selfcheck),
}
for panel, commands in PANELS.items():
    for command in commands:
        app.command(command.__name__.replace("_", "-"), rich_help_panel=panel)(command)
