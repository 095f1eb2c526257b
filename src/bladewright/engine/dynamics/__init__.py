"""The turning blade as something that bends, twists and swings: modes, response, flutter, divergence."""
