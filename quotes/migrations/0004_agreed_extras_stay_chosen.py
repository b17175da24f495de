from typing import Any

from django.db import migrations


def mark_agreed_extras(apps: Any, schema_editor: Any) -> None:
    """What a client ticked was kept with the answer alone; the lines themselves say it now."""
    decisions = apps.get_model("quotes", "Decision").objects.filter(answer="accepted").exclude(options=[])
    lines = apps.get_model("quotes", "QuoteLine").objects
    for quote, options in decisions.values_list("quote", "options"):
        agreed = [int(option["key"]) for option in options]
        lines.filter(quote=quote, optional=True, pk__in=agreed).update(chosen=True)


class Migration(migrations.Migration):
    dependencies = [("quotes", "0003_line_says_what_another_way_costs")]

    operations = [migrations.RunPython(mark_agreed_extras, migrations.RunPython.noop)]
