"""Which words may a state, a role or a kind take, and which step may follow which?"""

from django.db import models


class Role(models.TextChoices):
    OWNER = "owner", "Owner"
    MAKER = "maker", "Maker"
    BOOKKEEPER = "bookkeeper", "Bookkeeper"


class JobState(models.TextChoices):
    ENQUIRY = "enquiry", "enquiry"
    QUOTED = "quoted", "quoted"
    WON = "won", "won"
    BENCH = "bench", "on the bench"
    HANDED_OVER = "handed_over", "handed over"
    CLOSED = "closed", "closed"
    LOST = "lost", "lost"


JOB_STEPS: dict[str, frozenset[str]] = {
    JobState.ENQUIRY: frozenset({JobState.QUOTED, JobState.WON, JobState.LOST}),
    JobState.QUOTED: frozenset({JobState.ENQUIRY, JobState.WON, JobState.LOST}),
    JobState.WON: frozenset({JobState.BENCH, JobState.LOST}),
    JobState.BENCH: frozenset({JobState.WON, JobState.HANDED_OVER}),
    JobState.HANDED_OVER: frozenset({JobState.BENCH, JobState.CLOSED}),
    JobState.CLOSED: frozenset({JobState.HANDED_OVER}),
    JobState.LOST: frozenset({JobState.ENQUIRY}),
}
OPEN_FOR_HOURS = frozenset({JobState.WON, JobState.BENCH, JobState.HANDED_OVER})


class Grade(models.TextChoices):
    SEEN = "seen", "seen"
    PAINTED = "painted", "painted"
    CONCEALED = "concealed", "concealed"


class Caution(models.TextChoices):
    DUST = "dust", "dust"
    ELECTRICS = "electrics", "electrics"
    GAS = "gas", "gas"
    STRUCTURE = "structure", "structure"
    MASS = "mass", "vehicle or vessel mass"
    HEIGHTS = "heights", "work at height"


class ChangeState(models.TextChoices):
    DRAFT = "draft", "draft"
    ISSUED = "issued", "issued"
    AGREED = "agreed", "agreed"
    REFUSED = "refused", "refused"
    WITHDRAWN = "withdrawn", "withdrawn"


class CostKind(models.TextChoices):
    MATERIAL = "material", "material"
    SUBCONTRACT = "subcontract", "subcontract"
    HIRE = "hire", "hire"
    TRAVEL = "travel", "travel"
    OTHER = "other", "other"


class CostSource(models.TextChoices):
    HAND = "hand", "entered by hand"
    ORDER = "order", "received on an order"
    STOCK = "stock", "issued from stock"


class BudgetSource(models.TextChoices):
    QUOTE = "quote", "accepted quote"
    CHANGE = "change", "agreed change order"


class Measurement(models.TextChoices):
    METRIC = "metric", "metric"
    FEET = "feet", "feet and inches"


class PaperSize(models.TextChoices):
    A4 = "A4", "A4"
    LETTER = "letter", "US Letter"
