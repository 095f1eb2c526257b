"""Two questions asked of the oven: what a fault took, and which cures a sensor found off may have reached."""

from typing import Any

from django import forms
from django.http import HttpResponse
from django.urls import path

from bladewright import __version__
from bladewright.errors import BladewrightError
from bladewright.proof.cure_fault import CureFault, cost_of_fault
from bladewright.records.book import opened
from bladewright.records.cure_inputs import cure_drawings, newest_cure
from bladewright.records.found_off import FoundOff, reached_runs, sensors_on_file
from bladewright.units import to_si
from bladewright.web import clock, following
from bladewright.web.asking import DeskRequest
from bladewright.web.doors import door
from bladewright.web.forms import DayField
from bladewright.web.oven_runs import cost_context
from bladewright.web.showing import page
from bladewright.web.working_out import Work, worked_out


class FaultForm(forms.Form):
    """What went wrong, in the shop's words. What did not happen stays empty."""

    zone = forms.IntegerField(
        label="Zone", required=False, min_value=1, max_value=6, help_text="1 to 3 top, 4 to 6 bottom, root to tip."
    )
    dead_after = forms.CharField(
        label="Its heater died this long into the dwell", required=False, help_text='Like "40 min".'
    )
    low = forms.CharField(
        label="It ran too cold by this much, the whole run", required=False, help_text='Like "3 K" or "5 degF".'
    )
    power_cut_after = forms.CharField(
        label="The power was lost this long into the dwell", required=False, help_text='Like "20 min".'
    )
    power_cut_for = forms.CharField(
        label="The power was off for", required=False, help_text='Like "15 min"; empty: it never came back.'
    )
    pressure_late = forms.CharField(
        label="Pressure came on this long after heat", required=False, help_text='Like "10 min".'
    )
    pressure_lost_after = forms.CharField(
        label="Pressure was lost this long into the dwell", required=False, help_text='Like "5 min".'
    )

    def fault(self) -> CureFault:
        """What was told, in SI; ``BadInput`` names the entry."""
        told = self.cleaned_data
        spans = {name: to_si(told[name], "time") for name in SPANS if told[name]}
        low = to_si(told["low"], "temperature difference") if told["low"] else None
        return CureFault(zone=told["zone"], low=low, **spans)


SPANS = ("dead_after", "power_cut_after", "power_cut_for", "pressure_late", "pressure_lost_after")


class SensorForm(forms.Form):
    """What a calibration found."""

    sensor = forms.CharField(label="Which sensor", max_length=80, help_text="As the log names its channel.")
    off = forms.CharField(
        label="It read too much by", max_length=40,
        help_text='Like "4 degC"; "-4 degC" too little; "+/- 4 degC" where nobody wrote down which way.',
    )  # fmt: skip
    last_good = DayField(
        label="Last known good on", required=False,
        help_text="Empty: never, so every cure counts.",
    )  # fmt: skip
    found = DayField(label="Found off on", required=False, help_text="Empty: today.")
    channel = forms.CharField(
        label="The logger's channel it sat on", required=False, max_length=80,
        help_text="If the channel has another name. Where it is not on record, each mould sensor is tried.",
    )  # fmt: skip


@door()
def cost(request: DeskRequest) -> HttpResponse:
    """What a fault took that somebody tells: no log is needed."""
    drawings = cure_drawings()
    form = FaultForm(request.GET if request.GET else None)
    context: dict[str, Any] = {
        "here": "oven",
        "form": form,
        "drawings": [f"{one.name} {one.revision}" for one in drawings],
    }
    if request.GET and form.is_valid():
        try:
            by = following.held_to(request.GET.get("drawing", ""))
            fault = form.fault()
            inputs = ["cost of a fault", fault, by.sha256, __version__]
            work = worked_out(inputs, lambda _: cost_of_fault(by.drawing, fault))
            context |= cost_context(work) | {"by": by}
            if work.error is not None:
                _blame(form, work.error)
        except BladewrightError as error:
            _blame(form, error)
    return page(request, "desk/oven_fault.html", context)


@door()
def sensor(request: DeskRequest) -> HttpResponse:
    """Which cures on file a sensor that was found off may have reached, and whether verdicts change."""
    form = SensorForm(request.GET if request.GET else None)
    context: dict[str, Any] = {"here": "oven", "form": form, "sensors": sensors_on_file()}
    if request.GET and form.is_valid():
        work = _reached(form)
        context["work"] = work
        context["reviews"] = work.answer
        if work.error is not None:
            _blame(form, work.error)
    return page(request, "desk/oven_sensor.html", context)


def _reached(form: SensorForm) -> Work:
    told = form.cleaned_data
    today = opened().day(clock.now())
    asked = FoundOff(told["sensor"], told["off"], told["last_good"], told["found"] or today, told["channel"])
    inputs = ["sensor found off", asked, str(opened().folder), newest_cure(), __version__]
    return worked_out(inputs, lambda tell: reached_runs(asked, tell))


def _blame(form: forms.Form, error: BladewrightError) -> None:
    """Put an error beside its entry, or on top where the form has none of that name."""
    form.add_error(error.field if error.field in form.fields else None, str(error))


urls = [
    path("oven/fault/", cost, name="oven-fault"),
    path("oven/sensor/", sensor, name="oven-sensor"),
]
