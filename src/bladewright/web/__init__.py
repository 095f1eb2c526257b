"""The shop desk: one view module per task, no arithmetic, and no way into the book but its services."""
