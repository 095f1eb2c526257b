"""What came from the shop floor, typed: logs, pull curves, sheets, weighings, signed records."""
