"""Two products to try the timeline on: the demo, kept overnight in the fridge, and one made in a day."""

from oventide.services.demo_bake import demo_product
from oventide.services.reading import read_file
from oventide.timeline.batch import Batch, batch_of

SAME_DAY = """
name = "Lantern Quay caraway twists"

[[component]]
kind = "dough"
name = "Dough"
lines = [
  "500 g strong white flour", "250 g whole milk", "60 g caster sugar", "9 g fine salt", "6 g instant yeast",
  "50 g egg", "70 g unsalted butter, soft",
]

[[component]]
kind = "spread"
name = "Spread"
lines = ["70 g unsalted butter, soft", "90 g light brown sugar"]

[makeup]
sheet_width_mm = 360
sheet_length_mm = 320
pieces = 12
tin = "rectangle 30 x 20 x 5 cm"

[[step]]
do = "mix"
minutes = 12
target = "dough_c 26 (24 to 28)"

[[step]]
do = "bulk"
minutes = 75
covered = true

[[step]]
do = "sheet"
minutes = "5-8-12"
where = "bench"

[[step]]
do = "spread"
minutes = "4-6-8"
where = "bench"

[[step]]
do = "roll"
minutes = "2-3-5"
where = "bench"

[[step]]
do = "cut"
minutes = "3-4-6"

[[step]]
do = "proof"
minutes = "45-60-90"
covered = true
target = "rise 1.5 (1.4 to 1.6)"
ends_by = "target"

[[step]]
do = "bake"
minutes = 24
air = 175

[[step]]
do = "cool"
minutes = 45
"""


def overnight() -> Batch:
    """The demo: a sponge, a night in the fridge, a bake covered and then open, a glaze."""
    return batch_of(demo_product())


def same_day() -> Batch:
    """A straight dough, proofed until it has risen, baked open."""
    return batch_of(read_file(SAME_DAY, "same-day.toml"))
