"""What the quotes room keeps: quotes and their lines, issued documents, client's links and answers."""

from quotes.models.answers import Decision, Evidence, Message
from quotes.models.changes import ChangeNote
from quotes.models.documents import IssuedDocument
from quotes.models.invoices import Invoice, InvoiceLine, Payment
from quotes.models.links import ClientLink, Knock, LinkEvent
from quotes.models.quotes import Quote, QuoteLine

__all__ = [
    "ChangeNote",
    "ClientLink",
    "Decision",
    "Evidence",
    "Invoice",
    "InvoiceLine",
    "IssuedDocument",
    "Knock",
    "LinkEvent",
    "Message",
    "Payment",
    "Quote",
    "QuoteLine",
]
