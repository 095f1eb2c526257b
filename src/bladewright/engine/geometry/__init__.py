"""Section outlines as paired points, leading edge to trailing edge; x aft, z up, any one length unit throughout."""
