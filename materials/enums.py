"""Which words may a material's kind or grain take, a cutting plan's kind or state?"""

from django.db import models


class MaterialKind(models.TextChoices):
    BOARD = "board", "board"
    SHEET = "sheet", "sheet"
    LENGTH = "length", "length"
    PIECE = "piece", "piece"
    LIQUID = "liquid", "liquid"
    FIXING = "fixing", "fixing"


class Grain(models.TextChoices):
    ALONG = "along", "along the length"
    NONE = "none", "none"


class PlanKind(models.TextChoices):
    """Whether only the length is cut, or both sides."""

    BOARD = "board", "boards"
    SHEET = "sheet", "sheets"


CUT_AS: dict[str, PlanKind] = {
    MaterialKind.BOARD: PlanKind.BOARD,
    MaterialKind.LENGTH: PlanKind.BOARD,
    MaterialKind.SHEET: PlanKind.SHEET,
}


class PlanState(models.TextChoices):
    """How the search for a plan stands; the best so far can be read in any of them."""

    RUNNING = "running", "searching"
    DONE = "done", "done"
    STOPPED = "stopped", "stopped"
    FAILED = "failed", "no plan"


class StockSource(models.TextChoices):
    """How a thing came into stock."""

    HAND = "hand", "written down by hand"
    BOUGHT = "bought", "bought for stock"
    LEFTOVER = "leftover", "left over from a job"
    RECLAIMED = "reclaimed", "reclaimed"


class StockStep(models.TextChoices):
    """Why the count of a thing in stock changed."""

    IN = "in", "came in"
    TAKEN = "taken", "taken to a phase"
    BACK = "back", "put back"
    COUNTED = "counted", "counted again"


class OrderState(models.TextChoices):
    DRAFT = "draft", "draft"
    PLACED = "placed", "ordered"
    PART = "part", "partly received"
    RECEIVED = "received", "received"
    CANCELLED = "cancelled", "cancelled"


ORDER_STEPS: dict[str, frozenset[str]] = {
    OrderState.DRAFT: frozenset({OrderState.PLACED, OrderState.CANCELLED}),
    OrderState.PLACED: frozenset({OrderState.PART, OrderState.RECEIVED, OrderState.CANCELLED}),
    OrderState.PART: frozenset({OrderState.PART, OrderState.RECEIVED, OrderState.PLACED}),
    OrderState.RECEIVED: frozenset({OrderState.PART, OrderState.PLACED, OrderState.CANCELLED}),
    OrderState.CANCELLED: frozenset(),
}
