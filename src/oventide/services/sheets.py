"""Bench sheets: weights, make-up and forecast of a product gathered on one page. The date of printing enters here."""

from datetime import datetime

from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.press.model import BenchSheet, Paper, SheetUnits
from oventide.services.answers import Scaling
from oventide.timeline.procedure import Product


def bench_sheet(
    product: Product,
    kitchen: Kitchen | None = None,
    forecast: Forecast | None = None,
    units: SheetUnits = "metric",
    scaling: Scaling | None = None,
    ready_by: str | None = None,
    revision: str = "",
    printed: datetime | None = None,
) -> BenchSheet:
    """The sheet to print or show. Without a forecast the steps stand with the minutes that the formula gives."""
    raise NotImplementedError


def sheet_pdf(sheet: BenchSheet, paper: Paper = "a4") -> bytes:
    """The sheet as a PDF."""
    raise NotImplementedError


def ruler_pdf(product: Product, paper: Paper = "a4") -> bytes:
    """The cut marks as a paper ruler, 1 : 1."""
    raise NotImplementedError
