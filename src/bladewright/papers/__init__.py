"""PDF and label bytes from plain data: blade record, set record. No database, no clock, packaged fonts only."""
