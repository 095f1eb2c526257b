"""One file per command: parses, calls, prints; no arithmetic. Heavy imports stay inside the commands."""


def main() -> None:
    """Run the command line; errors become clear text and an exit code."""
    from bladewright.cli.running import run

    run()
