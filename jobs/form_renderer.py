"""How does a form draw its fields? With the message beside the field and what was typed still there."""

from django.forms.renderers import TemplatesSetting


class KerfbookForms(TemplatesSetting):
    """Fields as label, control, hint and message; one template for all rooms."""

    field_template_name = "components/field.html"
    form_template_name = "components/form.html"
