"""Whom a blade flies with: exact best sets, leftovers explained, trim weight for a resolved difference only."""
