"""What a few measured values allow one to say of all that were not measured."""
