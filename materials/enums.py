"""Which words may a material's kind or grain take?"""

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
