"""Where to go next, and never out of the desk."""

from django.http import HttpRequest
from django.utils.http import url_has_allowed_host_and_scheme


def inside(request: HttpRequest, address: str) -> str:
    """An address of this desk; the first page for anything else."""
    if address.startswith("/") and url_has_allowed_host_and_scheme(address, allowed_hosts={request.get_host()}):
        return address
    return "/"
