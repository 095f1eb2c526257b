"""The turning blade as an elastic beam. X aft, Y outward, Z up; moments name their axis."""
