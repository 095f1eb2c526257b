"""Every address of the desk: those of each place, in turn."""

from importlib import import_module

from django.urls import URLPattern

from bladewright.web import pages

urlpatterns: list[URLPattern] = [
    pattern for place in pages.PLACES for pattern in import_module(f"bladewright.web.{place.module}").urls
]
handler400 = "bladewright.web.showing.not_readable"
handler404 = "bladewright.web.showing.nothing_here"
handler500 = "bladewright.web.showing.our_fault"
