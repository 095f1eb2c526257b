"""The tables of the book. Rows are only ever added: what holds now is what the newest row says.

Every row names the event it was written by; the event holds the row's canonical JSON and the hash of the event before.
"""

from django.db import models


class Event(models.Model):
    """One act of a person: what was written, by whom, when and why. The events are the history."""

    number = models.BigIntegerField(primary_key=True)
    kind = models.TextField()  # like "lot received"
    subject = models.TextField()  # like a serial or a lot
    by = models.TextField()
    at = models.TextField()  # UTC, as chain.utc_text writes it
    reason = models.TextField()
    body = models.TextField()  # canonical JSON of the rows written
    previous = models.TextField()
    hash = models.TextField(unique=True)

    class Meta:
        db_table = "event"
        indexes = (models.Index(fields=["subject", "number"], name="event_by_subject"),)


class Row(models.Model):
    """What every other table has."""

    id = models.BigAutoField(primary_key=True)
    event = models.ForeignKey(Event, models.PROTECT, related_name="+")

    class Meta:
        abstract = True


class Person(Row):
    """Somebody who writes in the book."""

    name = models.TextField(unique=True)

    class Meta:
        db_table = "person"


class Authorisation(Row):
    """What a person may do, from a day until a day."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="authorisations")
    scope = models.TextField()
    first = models.DateField()
    last = models.DateField(null=True)  # none: until withdrawn

    class Meta:
        db_table = "authorisation"


class Withdrawal(Row):
    """The early end of an authorisation."""

    authorisation = models.OneToOneField(Authorisation, models.PROTECT, related_name="withdrawal")

    class Meta:
        db_table = "withdrawal"


class Secret(Row):
    """What a person proves themselves by, as a salted hash; the newest holds, and an empty one lets nobody in."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="secrets")
    hash = models.TextField()

    class Meta:
        db_table = "secret"


class Token(Row):
    """A program's key: it acts for a person, and only in what the key was made for. The key itself is not kept."""

    name = models.TextField(unique=True)
    person = models.ForeignKey(Person, models.PROTECT, related_name="tokens")
    may = models.TextField()  # canonical JSON list of what a program may do with it
    sha256 = models.TextField(unique=True)
    last = models.DateField()

    class Meta:
        db_table = "token"


class TokenWithdrawal(Row):
    """The early end of a program's key."""

    token = models.OneToOneField(Token, models.PROTECT, related_name="withdrawal")

    class Meta:
        db_table = "token_withdrawal"


class Once(Row):
    """A form that has done its work: sent a second time, it writes nothing."""

    token = models.TextField(unique=True)

    class Meta:
        db_table = "once"


class StoredFile(Row):
    """A file kept in the book's folder under its SHA-256."""

    sha256 = models.TextField(unique=True)
    name = models.TextField()
    size = models.BigIntegerField()

    class Meta:
        db_table = "stored_file"


class Lot(Row):
    """Material as received: one sheet, roll, bar or box. Several may come from one lot of the maker."""

    lot = models.TextField(unique=True)
    material = models.TextField()
    maker = models.TextField()
    maker_lot = models.TextField(db_index=True)
    received_on = models.DateField()
    expires_on = models.DateField(null=True)
    certificate = models.ForeignKey(StoredFile, models.PROTECT, null=True, related_name="+")

    class Meta:
        db_table = "lot"


class ShopFile(Row):
    """A file about the shop itself and not about one blade: the oven, a roll, a gauge. The newest of its name holds."""

    kind = models.TextField()  # like "oven" or "adhesive roll"
    about = models.TextField()  # which of its kind
    file = models.ForeignKey(StoredFile, models.PROTECT, related_name="+")
    beside = models.ForeignKey(StoredFile, models.PROTECT, null=True, related_name="+")  # what it is read by

    class Meta:
        db_table = "shop_file"
        indexes = (models.Index(fields=["kind", "about", "id"], name="shop_file_newest"),)


class Drawing(Row):
    """One revision of a drawing: the bytes of its file."""

    file = models.OneToOneField(StoredFile, models.PROTECT, related_name="+")
    name = models.TextField()
    revision = models.TextField()

    class Meta:
        db_table = "drawing"
        constraints = (models.UniqueConstraint(fields=["name", "revision"], name="one_drawing_for_each_revision"),)


class DrawingApproval(Row):
    """A second person's yes to a drawing revision; only then are blades made to it."""

    drawing = models.OneToOneField(Drawing, models.PROTECT, related_name="approval")

    class Meta:
        db_table = "drawing_approval"


class Blade(Row):
    """One serial, made to one drawing revision."""

    serial = models.TextField(unique=True)
    drawing = models.ForeignKey(Drawing, models.PROTECT, related_name="+")

    class Meta:
        db_table = "blade"


class LotUse(Row):
    """A lot built into a part of a blade."""

    blade = models.ForeignKey(Blade, models.PROTECT, related_name="lots")
    lot = models.ForeignKey(Lot, models.PROTECT, related_name="uses")
    part = models.TextField()

    class Meta:
        db_table = "lot_use"
        constraints = (models.UniqueConstraint(fields=["blade", "lot", "part"], name="one_use_of_a_lot_in_a_part"),)


class Evidence(Row):
    """A filed piece of evidence, with the files needed to read it."""

    kind = models.TextField()  # cure, coupon, dimensions, weighing, signed record
    file = models.ForeignKey(StoredFile, models.PROTECT, related_name="+")
    description = models.ForeignKey(StoredFile, models.PROTECT, null=True, related_name="+")
    pull = models.ForeignKey(StoredFile, models.PROTECT, null=True, related_name="+")
    about = models.TextField()  # proof, label or logger: what tells it from others of its kind

    class Meta:
        db_table = "evidence"
        constraints = (models.UniqueConstraint(fields=["kind", "file"], name="evidence_is_filed_once"),)


class EvidenceOf(Row):
    """The blade a piece of evidence speaks for; one cure may speak for several."""

    evidence = models.ForeignKey(Evidence, models.PROTECT, related_name="blades")
    blade = models.ForeignKey(Blade, models.PROTECT, related_name="evidence")

    class Meta:
        db_table = "evidence_of"
        constraints = (models.UniqueConstraint(fields=["evidence", "blade"], name="evidence_names_a_blade_once"),)


class Deviation(Row):
    """A finding accepted by a person with design authority. The finding stays as it is."""

    number = models.TextField(unique=True)
    blade = models.ForeignKey(Blade, models.PROTECT, related_name="deviations")
    rule = models.TextField()
    only_with = models.TextField()  # canonical JSON list of serials
    verdict_sha256 = models.TextField()  # the verdict that was read when it was accepted

    class Meta:
        db_table = "deviation"


class Verdict(Row):
    """A blade judged: kept whole, with what it rests on. A newer engine adds its own and leaves this one."""

    blade = models.ForeignKey(Blade, models.PROTECT, related_name="verdicts")
    word = models.TextField()
    inputs_sha256 = models.TextField()
    engine_version = models.TextField()
    body = models.TextField()  # canonical JSON
    sha256 = models.TextField()  # of the body

    class Meta:
        db_table = "verdict"
        constraints = (
            models.UniqueConstraint(
                fields=["blade", "inputs_sha256", "engine_version"], name="one_verdict_for_the_same_inputs"
            ),
        )


class Set(Row):
    """Blades that fly together."""

    name = models.TextField(unique=True)
    match = models.TextField()  # canonical JSON of the pairing room's BladeSet
    method = models.TextField()

    class Meta:
        db_table = "blade_set"


class SetBlade(Row):
    """A blade in a set, and the verdict it was matched on."""

    set = models.ForeignKey(Set, models.PROTECT, related_name="blades")
    blade = models.OneToOneField(Blade, models.PROTECT, related_name="in_set")
    verdict = models.ForeignKey(Verdict, models.PROTECT, related_name="+")

    class Meta:
        db_table = "set_blade"


class SignOut(Row):
    """A set released to fly, by a named person: as it was tried at that moment, on the verdicts of that moment."""

    set = models.OneToOneField(Set, models.PROTECT, related_name="sign_out")
    match = models.TextField()  # canonical JSON of the pairing room's BladeSet
    verdicts = models.TextField()  # canonical JSON: serial -> SHA-256 of the verdict

    class Meta:
        db_table = "sign_out"


class Owner(Row):
    """Whose aircraft it is, and how to reach them."""

    name = models.TextField(unique=True)
    contact = models.TextField()

    class Meta:
        db_table = "owner"


class Aircraft(Row):
    """One aircraft, by the mark it flies under or its maker's serial."""

    mark = models.TextField(unique=True)

    class Meta:
        db_table = "aircraft"


class Ownership(Row):
    """Who owns an aircraft from this event on."""

    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="owners")
    owner = models.ForeignKey(Owner, models.PROTECT, related_name="+")

    class Meta:
        db_table = "ownership"


class Installation(Row):
    """A set put on an aircraft."""

    set = models.ForeignKey(Set, models.PROTECT, related_name="installations")
    aircraft = models.ForeignKey(Aircraft, models.PROTECT, related_name="installations")
    on = models.DateField()

    class Meta:
        db_table = "installation"


class Removal(Row):
    """The end of an installation."""

    installation = models.OneToOneField(Installation, models.PROTECT, related_name="removal")
    on = models.DateField()

    class Meta:
        db_table = "removal"
