"""What the quotes room keeps: quotes and their lines, issued documents, client's links and answers."""

from quotes.models.answers import Decision, Message
from quotes.models.changes import VerbalInstruction
from quotes.models.documents import IssuedDocument
from quotes.models.links import ClientLink, Knock, LinkEvent
from quotes.models.quotes import Quote, QuoteLine

__all__ = [
    "ClientLink",
    "Decision",
    "IssuedDocument",
    "Knock",
    "LinkEvent",
    "Message",
    "Quote",
    "QuoteLine",
    "VerbalInstruction",
]
