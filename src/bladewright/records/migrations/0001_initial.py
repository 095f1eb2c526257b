"""The first tables of the book."""

import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name="Drawing",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("name", models.TextField()),
                ("revision", models.TextField()),
            ],
            options={
                "db_table": "drawing",
            },
        ),
        migrations.CreateModel(
            name="Event",
            fields=[
                ("number", models.BigIntegerField(primary_key=True, serialize=False)),
                ("kind", models.TextField()),
                ("subject", models.TextField()),
                ("by", models.TextField()),
                ("at", models.TextField()),
                ("reason", models.TextField()),
                ("body", models.TextField()),
                ("previous", models.TextField()),
                ("hash", models.TextField(unique=True)),
            ],
            options={
                "db_table": "event",
            },
        ),
        migrations.CreateModel(
            name="Blade",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("serial", models.TextField(unique=True)),
                (
                    "drawing",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.drawing"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "blade",
            },
        ),
        migrations.CreateModel(
            name="DrawingApproval",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                (
                    "drawing",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="approval", to="records.drawing"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "drawing_approval",
            },
        ),
        migrations.AddField(
            model_name="drawing",
            name="event",
            field=models.ForeignKey(on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"),
        ),
        migrations.CreateModel(
            name="Deviation",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("number", models.TextField(unique=True)),
                ("rule", models.TextField()),
                ("only_with", models.TextField()),
                ("verdict_sha256", models.TextField()),
                (
                    "blade",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="deviations", to="records.blade"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "deviation",
            },
        ),
        migrations.CreateModel(
            name="Aircraft",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("mark", models.TextField(unique=True)),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "aircraft",
            },
        ),
        migrations.CreateModel(
            name="Installation",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("on", models.DateField()),
                (
                    "aircraft",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="installations", to="records.aircraft"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "installation",
            },
        ),
        migrations.CreateModel(
            name="Owner",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("name", models.TextField(unique=True)),
                ("contact", models.TextField()),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "owner",
            },
        ),
        migrations.CreateModel(
            name="Ownership",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                (
                    "aircraft",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="owners", to="records.aircraft"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "owner",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.owner"
                    ),
                ),
            ],
            options={
                "db_table": "ownership",
            },
        ),
        migrations.CreateModel(
            name="Person",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("name", models.TextField(unique=True)),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "person",
            },
        ),
        migrations.CreateModel(
            name="Authorisation",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("scope", models.TextField()),
                ("first", models.DateField()),
                ("last", models.DateField(null=True)),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "person",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="authorisations", to="records.person"
                    ),
                ),
            ],
            options={
                "db_table": "authorisation",
            },
        ),
        migrations.CreateModel(
            name="Removal",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("on", models.DateField()),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "installation",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="removal", to="records.installation"
                    ),
                ),
            ],
            options={
                "db_table": "removal",
            },
        ),
        migrations.CreateModel(
            name="Set",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("name", models.TextField(unique=True)),
                ("match", models.TextField()),
                ("method", models.TextField()),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "blade_set",
            },
        ),
        migrations.AddField(
            model_name="installation",
            name="set",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="installations", to="records.set"
            ),
        ),
        migrations.CreateModel(
            name="SignOut",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("match", models.TextField()),
                ("verdicts", models.TextField()),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "set",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="sign_out", to="records.set"
                    ),
                ),
            ],
            options={
                "db_table": "sign_out",
            },
        ),
        migrations.CreateModel(
            name="StoredFile",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("sha256", models.TextField(unique=True)),
                ("name", models.TextField()),
                ("size", models.BigIntegerField()),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "stored_file",
            },
        ),
        migrations.CreateModel(
            name="Lot",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("lot", models.TextField(unique=True)),
                ("material", models.TextField()),
                ("maker", models.TextField()),
                ("maker_lot", models.TextField(db_index=True)),
                ("received_on", models.DateField()),
                ("expires_on", models.DateField(null=True)),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "certificate",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.storedfile",
                    ),
                ),
            ],
            options={
                "db_table": "lot",
            },
        ),
        migrations.CreateModel(
            name="Evidence",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("kind", models.TextField()),
                ("about", models.TextField()),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "description",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.storedfile",
                    ),
                ),
                (
                    "file",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.storedfile"
                    ),
                ),
                (
                    "pull",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="records.storedfile",
                    ),
                ),
            ],
            options={
                "db_table": "evidence",
            },
        ),
        migrations.AddField(
            model_name="drawing",
            name="file",
            field=models.OneToOneField(
                on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.storedfile"
            ),
        ),
        migrations.CreateModel(
            name="Verdict",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("word", models.TextField()),
                ("inputs_sha256", models.TextField()),
                ("engine_version", models.TextField()),
                ("body", models.TextField()),
                ("sha256", models.TextField()),
                (
                    "blade",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="verdicts", to="records.blade"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "verdict",
            },
        ),
        migrations.CreateModel(
            name="SetBlade",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                (
                    "blade",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="in_set", to="records.blade"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "set",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="blades", to="records.set"
                    ),
                ),
                (
                    "verdict",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.verdict"
                    ),
                ),
            ],
            options={
                "db_table": "set_blade",
            },
        ),
        migrations.CreateModel(
            name="Withdrawal",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                (
                    "authorisation",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="withdrawal",
                        to="records.authorisation",
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
            ],
            options={
                "db_table": "withdrawal",
            },
        ),
        migrations.CreateModel(
            name="EvidenceOf",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                (
                    "blade",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="evidence", to="records.blade"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "evidence",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="blades", to="records.evidence"
                    ),
                ),
            ],
            options={
                "db_table": "evidence_of",
                "constraints": [
                    models.UniqueConstraint(fields=("evidence", "blade"), name="evidence_names_a_blade_once")
                ],
            },
        ),
        migrations.CreateModel(
            name="LotUse",
            fields=[
                ("id", models.BigAutoField(primary_key=True, serialize=False)),
                ("part", models.TextField()),
                (
                    "blade",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lots", to="records.blade"
                    ),
                ),
                (
                    "event",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to="records.event"
                    ),
                ),
                (
                    "lot",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="uses", to="records.lot"
                    ),
                ),
            ],
            options={
                "db_table": "lot_use",
                "constraints": [
                    models.UniqueConstraint(fields=("blade", "lot", "part"), name="one_use_of_a_lot_in_a_part")
                ],
            },
        ),
        migrations.AddConstraint(
            model_name="evidence",
            constraint=models.UniqueConstraint(fields=("kind", "file"), name="evidence_is_filed_once"),
        ),
        migrations.AddConstraint(
            model_name="drawing",
            constraint=models.UniqueConstraint(fields=("name", "revision"), name="one_drawing_for_each_revision"),
        ),
        migrations.AddConstraint(
            model_name="verdict",
            constraint=models.UniqueConstraint(
                fields=("blade", "inputs_sha256", "engine_version"), name="one_verdict_for_the_same_inputs"
            ),
        ),
    ]
