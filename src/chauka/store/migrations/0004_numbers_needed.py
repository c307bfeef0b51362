"""Every action and plan has its number now; apart from 0003, as PostgreSQL will not alter a table it just filled."""

from django.db import migrations, models


class Migration(migrations.Migration):

    dependencies = [
        ("store", "0003_numbers"),
    ]

    operations = [
        migrations.AlterField("action", "number", models.PositiveBigIntegerField()),
        migrations.AlterField("plan", "number", models.PositiveBigIntegerField()),
        migrations.AddConstraint(
            "action", models.UniqueConstraint(fields=("household", "number"), name="action_number_once")
        ),
        migrations.AddConstraint(
            "plan", models.UniqueConstraint(fields=("household", "number"), name="plan_number_once")
        ),
    ]
