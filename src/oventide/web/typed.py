"""What stands typed in an open form, kept for a while under a mark, so that it can be set beside what is saved."""

import hashlib
import threading
from collections import OrderedDict

from oventide.errors import refuse
from oventide.timeline.procedure import Product

KEPT = 60
_KEPT: OrderedDict[str, Product] = OrderedDict()
_LOCK = threading.Lock()


def keep(product: Product) -> str:
    """The mark under which it can be had again; the same thing has the same mark."""
    mark = hashlib.sha256(product.model_dump_json().encode()).hexdigest()[:20]
    with _LOCK:
        _KEPT[mark] = product
        _KEPT.move_to_end(mark)
        while len(_KEPT) > KEPT:
            _KEPT.popitem(last=False)
    return mark


def of(mark: str) -> Product:
    """What was typed. Refused where it was let go."""
    with _LOCK:
        found = _KEPT.get(mark)
    if found is None:
        raise refuse("other", "", "What was typed is not at hand any more.",
                     "Go back to the formula's page and ask from there again.")  # fmt: skip
    return found
