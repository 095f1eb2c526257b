"""Pure SI functions: geometry, flow, rotor, structure, statistics, metrology. No files, units library or clock."""
