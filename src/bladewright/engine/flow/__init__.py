"""Flow about a section: thin-section theory, panels, Mach number; angles in radians, moments nose-up positive."""
