"""Actions and plans are numbered within their household, so that what refers to them survives a dump and a restore."""

from typing import Any

from django.db import migrations, models
from django.db.models import F


def number_as_before(apps: Any, schema_editor: Any) -> None:
    """What was written down so far refers to actions and plans by their keys: those stay their numbers."""
    for name in ("Action", "Plan"):
        apps.get_model("store", name).objects.using(schema_editor.connection.alias).update(number=F("id"))


class Migration(migrations.Migration):

    dependencies = [
        ("store", "0002_find_changes"),
    ]

    operations = [
        migrations.AddField("action", "number", models.PositiveBigIntegerField(null=True)),
        migrations.AddField("plan", "number", models.PositiveBigIntegerField(null=True)),
        migrations.RunPython(number_as_before, migrations.RunPython.noop),
    ]
