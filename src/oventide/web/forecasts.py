"""Forecasts that were worked out lately, so that a page that is opened again answers at once."""

import threading
from collections import OrderedDict

from oventide.forecast.model import Forecast
from oventide.kitchen.model import Kitchen
from oventide.timeline.procedure import Product

KEPT = 24


class Forecasts:
    """The last forecasts by their whole input; same input, same answer, so that keeping them is honest."""

    def __init__(self) -> None:
        self._kept: OrderedDict[tuple[str, str, str | None, int, int], Forecast] = OrderedDict()
        self._lock = threading.Lock()

    def of(self, product: Product, kitchen: Kitchen, ready_by: str | None, seed: int, members: int) -> Forecast:
        """The forecast for these inputs."""
        from oventide.services import foreseeing  # here, since it loads the compiled rooms

        key = (product.model_dump_json(), kitchen.model_dump_json(), ready_by, seed, members)
        with self._lock:  # one at a time: the kernel takes every core by itself
            if key in self._kept:
                self._kept.move_to_end(key)
                return self._kept[key]
            forecast = foreseeing.foresee(product, kitchen, ready_by=ready_by, seed=seed, members=members)
            self._kept[key] = forecast
            while len(self._kept) > KEPT:
                self._kept.popitem(last=False)
            return forecast
