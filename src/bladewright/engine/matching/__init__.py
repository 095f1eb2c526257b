"""Exact choice of sets: which go together when every possible set has its cost."""
