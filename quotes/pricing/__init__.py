"""From cost to price to tax to totals: the only place where the rules of money live.

Pure calculation: frozen dataclasses of `Decimal` in and out, no Django. The chain of one line is
cost, overhead, contingency, markup or margin, discount, price. Each link is rounded half up to the minor unit
at the line and the markup takes up the odd penny, so that every column printed adds up to its total.
Tax is worked out once a rate on the sum (EN 16931, BR-CO-14 and BR-CO-17).
"""

from quotes.pricing.budget import PhaseBudget, phase_budgets
from quotes.pricing.changes import days_of, omit, whole_days
from quotes.pricing.labour import labour_hours
from quotes.pricing.lines import SUMS, Kind, Line, PricedLine, price_line
from quotes.pricing.options import choose
from quotes.pricing.outlook import LabourOutlook, labour_outlook
from quotes.pricing.quote import PricedQuote, at_margin, price_quote
from quotes.pricing.rules import (
    Discount,
    Overhead,
    OverheadBasis,
    PricingError,
    Profit,
    ProfitBasis,
    Rules,
    margin_from_markup,
    markup_from_margin,
)
from quotes.pricing.stages import Stage, StageAmount, stage_amounts
from quotes.pricing.tax import DatedRate, TaxCategory, TaxRate, rate_on, tax_inside
from quotes.pricing.totals import Allowance, TaxSubtotal, Totals, add_up
from quotes.pricing.waterfall import Step, waterfall

__all__ = [
    "SUMS",
    "Allowance",
    "DatedRate",
    "Discount",
    "Kind",
    "LabourOutlook",
    "Line",
    "Overhead",
    "OverheadBasis",
    "PhaseBudget",
    "PricedLine",
    "PricedQuote",
    "PricingError",
    "Profit",
    "ProfitBasis",
    "Rules",
    "Stage",
    "StageAmount",
    "Step",
    "TaxCategory",
    "TaxRate",
    "TaxSubtotal",
    "Totals",
    "add_up",
    "at_margin",
    "choose",
    "days_of",
    "labour_hours",
    "labour_outlook",
    "margin_from_markup",
    "markup_from_margin",
    "omit",
    "phase_budgets",
    "price_line",
    "price_quote",
    "rate_on",
    "stage_amounts",
    "tax_inside",
    "waterfall",
    "whole_days",
]
