"""One file per command: parses, calls, prints; no arithmetic. Heavy imports stay inside the commands."""
