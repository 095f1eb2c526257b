"""Makes the pictures of the desk in docs/pictures, from the invented season, in a real browser: ``make pictures``."""
