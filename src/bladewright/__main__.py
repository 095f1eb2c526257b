"""``python -m bladewright`` is the same as ``bladewright``."""

from bladewright.cli import main

main()
