"""Lines that are taken from another dish of the book."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ("store", "0005_photos"),
    ]

    operations = [
        migrations.AddField(model_name="dishline", name="made", field=models.TextField(null=True)),
    ]
