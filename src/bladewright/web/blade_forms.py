"""What is entered on a blade's page."""

from collections.abc import Iterable, Sequence
from typing import Any, Final

from django import forms

from bladewright.records.previews import Described
from bladewright.records.void_maps import LineToLookAt
from bladewright.web.forms import DayField, PlainForm, SignedForm

#: between the parts of a choice; no name holds it, and a browser sends it as it is, which it does not a line's end
BETWEEN: Final = "\t"
ACCEPTED: Final = ".toml,.csv,.txt,.tsv,.dat,.log"


class StartForm(PlainForm):
    """A new serial, to an approved drawing revision."""

    serial = forms.CharField(
        max_length=80, help_text="As it is stamped on the blade. It is never given to another blade."
    )
    drawing = forms.ChoiceField(label="Made to drawing", help_text="Only approved revisions stand here.")

    def offer(self, approved: Iterable[tuple[str, str]]) -> None:
        """The approved revisions to choose from."""
        self.fields["drawing"].choices = [  # type: ignore[attr-defined]
            (f"{name}{BETWEEN}{revision}", f"{name} revision {revision}") for name, revision in approved
        ]


class LotForm(PlainForm):
    """A lot built into a part."""

    part = forms.CharField(max_length=80, help_text="Like top skin, spar, adhesive, tip weight.")
    lot = forms.CharField(max_length=80, help_text="Scan its label, or type the shop's own name for it.")


class JudgeForm(PlainForm):
    """Nothing to enter: the rules look at what is on file."""


class SeveralFiles(forms.FileInput):
    """A file entry that takes several at once."""

    allow_multiple_selected = True


class SeveralFilesField(forms.FileField):
    """Several files, each checked as one would be."""

    widget = SeveralFiles

    def clean(self, data: Any, initial: Any = None) -> Any:
        """Every file, or the first complaint."""
        several = data if isinstance(data, list | tuple) and data else [None]
        return [super(SeveralFilesField, self).clean(one, initial) for one in several]


class DropForm(forms.Form):
    """Files to look at; nothing is written by looking, so it needs no token."""

    handed = SeveralFilesField(
        label="Files from the floor",
        widget=SeveralFiles(attrs={"multiple": True, "accept": ACCEPTED}),
        help_text="A log with its logger description, a coupon with its pull curve, a dimension sheet, a weighing, "
        "a void map, a signed record. Several at once are told apart.",
    )
    mates = forms.CharField(
        label="Other blades in the mould with it",
        required=False,
        max_length=400,
        help_text="For a cure log: their serials, with commas between.",
    )
    logger = forms.ChoiceField(label="Read a log by", required=False)
    machine = forms.ChoiceField(label="Read a pull curve by", required=False)

    def offer(self, loggers: Sequence[Described], machines: Sequence[Described]) -> None:
        """The descriptions on file, the last used first."""
        for field, known in (("logger", loggers), ("machine", machines)):
            choices = [
                ("", "the description dropped with it"),
                *((one.sha256, f"on file: {one.name}") for one in known),
            ]
            self.fields[field].choices = choices  # type: ignore[attr-defined]


class FileForm(PlainForm):
    """File what was looked at."""

    held = forms.CharField(widget=forms.HiddenInput, max_length=64)


class SignAndFileForm(SignedForm):
    """File what was looked at where filing it is signing it."""

    reason = None  # type: ignore[assignment]
    held = forms.CharField(widget=forms.HiddenInput, max_length=64)


class SignForm(SignedForm):
    """A proof that is not judged from what was measured, signed by whoever vouches for it."""

    reason = None  # type: ignore[assignment]
    proof = forms.ChoiceField(label="What you sign for")
    result = forms.ChoiceField(
        choices=[("conforms", "conforms"), ("does not conform", "does not conform")], widget=forms.RadioSelect
    )
    statement = forms.CharField(
        max_length=600, help_text="What was done or seen, in a sentence: sheet, times, values, what was found."
    )
    signed_on = DayField(label="Done on", help_text="The day the work was done or looked at.")
    details = forms.CharField(
        label="Particulars",
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        max_length=2000,
        help_text="One a line, a name, a colon and what it is, like batch: 14.",
    )
    field_order = ("proof", "result", "statement", "signed_on", "details", "secret")

    def offer(self, proofs: Iterable[str]) -> None:
        """The proofs this person may sign."""
        self.fields["proof"].choices = [(proof, proof) for proof in proofs]  # type: ignore[attr-defined]


class DeviationForm(SignedForm):
    """A finding accepted by a person with design authority; the finding itself stays as it is."""

    rule = forms.ChoiceField(label="The finding")
    only_with = forms.CharField(
        label="May fly only with",
        required=False,
        max_length=400,
        help_text="Serials of the only mates this holds for, with commas between; empty: any mate.",
    )
    field_order = ("rule", "only_with", "reason", "secret")

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["reason"].label = "Why it is accepted all the same"
        self.fields["reason"].required = True

    def offer(self, rules: Iterable[str]) -> None:
        """The findings of the newest verdict that somebody may accept."""
        self.fields["rule"].choices = [(rule, rule) for rule in rules]  # type: ignore[attr-defined]


class VoidMapForm(forms.Form):
    """A void map entered row by row; it is looked at before it is filed. Names of entries are those of its file."""

    method = forms.CharField(
        label="Found with what",
        max_length=200,
        help_text="Like: tapped with the 30 g hammer, both faces, on a grid of 1 in.",
    )
    found_on = DayField(label="Looked at on")
    uncertainty = forms.CharField(
        label="How well sizes and places are known",
        required=False,
        max_length=40,
        help_text="Half the width that covers 95 % of repeats, like 2 mm. Left empty, a void inside its limit is "
        "referred to a person.",
    )
    none_found = forms.BooleanField(label="No void was found where it was looked", required=False)

    def __init__(self, *args: Any, lines: Sequence[LineToLookAt], rows: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.lines, self.rows = lines, rows
        names = [line.name for line in lines]
        for number in range(1, len(lines) + 1):
            self.fields[f"looked_at.{number}.whole"] = forms.BooleanField(required=False, label="whole span")
            for end, words in (("inner", "or from"), ("outer", "to")):
                self.fields[f"looked_at.{number}.{end}"] = forms.CharField(required=False, max_length=40, label=words)
        for row in range(1, rows + 1):
            self.fields[f"voids.{row}.bondline"] = forms.ChoiceField(
                required=False, choices=[("", ""), *((name, name) for name in names)], label="bondline"
            )
            for size, words in SIZES.items():
                self.fields[f"voids.{row}.{size}"] = forms.CharField(required=False, max_length=40, label=words)

    @property
    def stretches(self) -> list[tuple[str, str, list[forms.BoundField]]]:
        """Each bondline, its whole span in words, and its three entries."""
        ends = ("whole", "inner", "outer")
        return [
            (line.name, line.whole, [self[f"looked_at.{n}.{end}"] for end in ends])
            for n, line in enumerate(self.lines, 1)
        ]

    @property
    def found(self) -> list[tuple[int, list[forms.BoundField]]]:
        """Each row for a void."""
        entries = ("bondline", *SIZES)
        return [(row, [self[f"voids.{row}.{entry}"] for entry in entries]) for row in range(1, self.rows + 1)]

    @property
    def about(self) -> list[forms.BoundField]:
        """What holds for the whole map."""
        return [self[name] for name in ("method", "found_on", "uncertainty", "none_found")]


SIZES: Final = {
    "station": "station",
    "chordwise": "place on the chord",
    "along": "along the span",
    "across": "across the chord",
}
