"""How a turning blade bends, twists, rings and flutters."""
