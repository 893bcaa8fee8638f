"""Weighing: a product scaled and rounded to the scale, with baker's percentages and the balance of the formula."""

from oventide.kitchen.model import Kitchen
from oventide.services.answers import Scaling, WeighAnswer
from oventide.timeline.procedure import Product


def scaled(product: Product, scaling: Scaling | None) -> tuple[Product, float, str]:
    """The product at another size, the factor, and a sentence that says what was asked."""
    raise NotImplementedError


def weigh(product: Product, scaling: Scaling | None = None, kitchen: Kitchen | None = None) -> WeighAnswer:
    """Weights to put on the scale. The kitchen gives the scale's steps; without one, 1 g, and 0.1 g below 20 g."""
    raise NotImplementedError
