"""Words for what a baker chooses from, by the value that is stored."""

SPOONS = (
    ("metric", "metric: cup 250 mL, tablespoon 15 mL"),
    ("us", "US: cup 237 mL, tablespoon 14.8 mL"),
    ("imperial", "imperial: cup 284 mL, tablespoon 17.8 mL"),
    ("au", "Australian: cup 250 mL, tablespoon 20 mL"),
)
EGGS = (
    ("eu_s", "EU small"), ("eu_m", "EU medium"), ("eu_l", "EU large"), ("eu_xl", "EU very large"),
    ("us_medium", "US medium"), ("us_large", "US large"), ("us_extra_large", "US extra large"),
    ("us_jumbo", "US jumbo"),
)  # fmt: skip
KINDS = (
    ("dough", "dough"), ("preferment", "preferment"), ("spread", "spread"), ("filling", "filling"), ("glaze", "glaze"),
    ("topping", "topping"), ("wash", "wash"), ("other", "other"),
)  # fmt: skip
STEPS = (
    ("mix", "mix"), ("bulk", "bulk"), ("retard", "retard"), ("temper", "temper"), ("sheet", "sheet out"),
    ("spread", "spread"), ("roll", "roll up"), ("chill", "chill"), ("cut", "cut"), ("tin", "into the tin"),
    ("proof", "proof"), ("bake", "bake"), ("glaze", "glaze"), ("cool", "cool"), ("keep", "keep"),
)  # fmt: skip
WHERE = (
    ("room", "in the room"), ("bench", "on the bench"), ("fridge", "in the fridge"), ("freezer", "in the freezer"),
    ("prover", "in the prover"), ("oven", "in the oven"),
)  # fmt: skip
TARGETS = (
    ("", "no target"), ("rise", "rise ×"), ("core_c", "core °"), ("dough_c", "dough °"), ("surface_c", "surface °"),
    ("colour", "colour ΔE"), ("solid_fat", "solid butter 0–1"),
)  # fmt: skip
ENDS_BY = (("clock", "the clock"), ("target", "the target"))
OVENS = (("convection", "fan (convection)"), ("static", "static"), ("deck", "deck"))
MIXERS = (("hand", "by hand"), ("planetary", "stand mixer"), ("spiral", "spiral mixer"))
BENCHES = (("wood", "wood"), ("steel", "steel"), ("granite", "granite"), ("plastic", "plastic"))
TINS = (
    ("light_metal", "light metal"), ("dark_metal", "dark metal"), ("glass", "glass"), ("ceramic", "ceramic"),
    ("silicone", "silicone"), ("paper", "paper"),
)  # fmt: skip
FRIDGES = (("still", "still air"), ("fan", "fan"))
UNKNOWN = ("", "I do not know")
