"""How well a measured number is known, and what two measured numbers say together."""
