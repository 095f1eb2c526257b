"""The engineering desk and the record book of a small shop that builds bonded-aluminium rotor blades."""

__version__ = "0.1.0"
