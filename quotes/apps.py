from django.apps import AppConfig


class QuotesConfig(AppConfig):
    name = "quotes"

    def ready(self) -> None:
        from jobs import agreed_work, contracts, still_open
        from jobs.append_only import keep_append_only
        from materials import ways_in_quote
        from quotes import links_of_job, told_here
        from quotes.models import Decision, Evidence, IssuedDocument, LinkEvent, Message, Payment
        from quotes.queries.agreed_work import agreed_labour
        from quotes.queries.quotes import is_agreed
        from quotes.queries.still_open import not_paid_or_answered
        from quotes.queries.ways import ways_priced

        keep_append_only(Decision, Evidence, IssuedDocument, LinkEvent, Message, Payment)
        links_of_job.register_all()
        told_here.register_all()
        agreed_work.register(agreed_labour)
        contracts.register(is_agreed)
        still_open.register(not_paid_or_answered)
        ways_in_quote.register(ways_priced)
