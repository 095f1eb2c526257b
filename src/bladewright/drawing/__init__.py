"""The blade drawing: a file a person writes, the rotor it flies on, materials, limits, required proofs."""
