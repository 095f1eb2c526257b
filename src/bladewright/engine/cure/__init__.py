"""How far an adhesive has cured along a temperature history, and what an oven's zones make of heater power."""
