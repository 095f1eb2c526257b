"""Cases against outside sources, one file per source, used by the command and by the tests."""
