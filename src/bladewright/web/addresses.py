"""A name as one part of an address, whatever letters it has: a serial like ``B/101`` has a page like any other."""

from django.urls import register_converter


class Name:
    """A name between two slashes; its own slashes are written ``~2F`` there, and ``~`` itself ``~7E``."""

    regex = "[^/]+"

    def to_python(self, part: str) -> str:
        """The name an address means."""
        return part.replace("~2F", "/").replace("~7E", "~")

    def to_url(self, name: str) -> str:
        """The name as it stands in an address."""
        return str(name).replace("~", "~7E").replace("/", "~2F")


register_converter(Name, "name")
