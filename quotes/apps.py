from django.apps import AppConfig


class QuotesConfig(AppConfig):
    name = "quotes"

    def ready(self) -> None:
        from jobs.append_only import keep_append_only
        from quotes import links_of_job
        from quotes.models import Decision, Evidence, IssuedDocument, LinkEvent, Message

        keep_append_only(Decision, Evidence, IssuedDocument, LinkEvent, Message)
        links_of_job.register_all()
