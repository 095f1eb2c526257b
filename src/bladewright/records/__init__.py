"""The book: the only room that knows its models. Services are the only write path and return frozen records."""
