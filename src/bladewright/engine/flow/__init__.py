"""Flow about a section: thin-section theory here; all angles in radians, moments nose-up positive."""
