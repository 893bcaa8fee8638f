"""The pantry's rows: enough of them, each within its own mass balance, and unknown stays unknown."""

import pytest

from oventide.errors import Refusal
from oventide.pantry.ingredients import everything, ingredient, table
from oventide.pantry.names import _built_in

FIGURES = ("water", "energy", "protein", "fat", "sugars", "fibre", "salt")


def test_at_least_150_ingredients_have_every_figure_asked_for() -> None:
    full = [item for item in everything() if all(getattr(item, name) is not None for name in FIGURES)]
    assert len(full) >= 150
    assert sum(item.usda != "" and item.grade == "read" for item in everything()) >= 150


@pytest.mark.parametrize("item", everything(), ids=lambda item: item.id)
def test_the_parts_of_100_g_are_at_most_100_g(item) -> None:
    parts = (item.water, item.protein, item.fat, item.carbohydrate)
    if None not in parts:
        # USDA carbohydrate is by difference, so a row may be a few tenths above 100.
        assert sum(parts) + (item.alcohol or 0) <= 101.6
    if item.saturates is not None and item.fat is not None:
        assert item.saturates <= item.fat + 0.05
    if item.sugars is not None and item.carbohydrate is not None:
        assert item.sugars <= item.carbohydrate + 1.0


def _energy_by_4_4_9_7(item) -> float:
    return (
        4 * item.protein
        + 9 * item.fat
        + 4 * (item.carbohydrate - item.fibre)
        + 2 * item.fibre
        + 7 * (item.alcohol or 0)
    )


EXEMPT = {
    # Energy by USDA's own factors, or acids and fibres that 4-4-9 does not fit.
    "oat_bran", "wheat_bran", "star_anise", "coriander_seed", "cumin", "chilli_flakes", "tonka_bean", "nigella_seed",
    "vinegar", "cider_vinegar", "sweetener_erythritol", "sweetener_xylitol",
    "lactic_acid", "inulin", "xanthan", "lecithin_soya", "citric_acid", "ascorbic_acid", "psyllium",
}  # fmt: skip


@pytest.mark.parametrize(
    "item", [item for item in everything() if item.grade == "remembered"], ids=lambda item: item.id
)
def test_remembered_energy_agrees_with_the_remembered_parts(item) -> None:
    parts = (item.protein, item.fat, item.carbohydrate, item.fibre, item.energy)
    if None in parts or item.id in EXEMPT:
        pytest.skip("not all known, or energy by other factors")
    assert item.energy == pytest.approx(_energy_by_4_4_9_7(item), rel=0.12, abs=12)


def test_an_empty_cell_is_unknown_and_never_zero() -> None:
    columns = {"water": "water_g", "fat": "fat_g", "sugars": "sugars_g", "fibre": "fibre_g", "lactose": "lactose_g"}
    empty = 0
    for name in ("composition", "remembered"):
        for row in table(name):
            for field, column in columns.items():
                if row.get(column, "") == "":
                    empty += 1
                    assert getattr(ingredient(row["id"]), field) is None, (row["id"], field)
    assert empty > 100


def test_doubted_figures_of_the_source_are_not_used() -> None:
    assert ingredient("glucose_syrup_corn_light").sugars is None
    assert ingredient("choc_hazelnut_spread").saturates is None
    assert ingredient("flour_spelt_whole_grain").sugars is None


def test_salt_is_sodium_times_two_and_a_half() -> None:
    # eu-1169-2011, Annex I; USDA NDB 01001: 643 mg sodium in 100 g of salted butter.
    assert ingredient("butter_salted").salt == pytest.approx(1.6075)


def test_flour_counts_and_starch_does_not() -> None:
    assert ingredient("flour_rye_dark").is_flour
    assert ingredient("vital_wheat_gluten").is_flour
    assert not ingredient("cornstarch").is_flour
    assert ingredient("sourdough_starter_100").flour_share == 50


@pytest.mark.parametrize(
    ("ingredient_id", "allergen"),
    [
        ("flour_ap_unenriched", "gluten (wheat)"), ("flour_rye_light", "gluten (rye)"), ("butter_unsalted", "milk"),
        ("egg_white", "egg"), ("tahini", "sesame"), ("almonds_ground", "tree nut (almond)"),
        ("peanut_butter", "peanut"), ("apricots_dried", "sulphites"), ("drink_soya", "soya"),
        ("mustard_prepared", "mustard"), ("anchovy", "fish"), ("syrup_malt", "gluten (barley)"),
        ("lemon_curd", "egg"), ("praline_paste_50", "tree nut (hazelnut)"),
    ],
)  # fmt: skip
def test_allergens(ingredient_id: str, allergen: str) -> None:
    assert allergen in ingredient(ingredient_id).allergens


def test_allergens_follow_the_category() -> None:
    """Every dairy, cheese and egg row carries its allergen; every row of wheat or rye flour carries gluten."""
    for item in everything():
        if item.category in ("dairy", "cheese"):
            assert "milk" in item.allergens, item.id
        if item.category == "egg":
            assert "egg" in item.allergens, item.id
        if item.category == "nut" and not item.id.startswith(("coconut", "chestnut")):
            assert any(allergen.startswith(("tree nut", "peanut")) for allergen in item.allergens), item.id
        if "wheat" in item.name or "rye" in item.name:
            assert any("gluten" in allergen for allergen in item.allergens) or item.id == "flour_buckwheat", item.id


def test_an_unknown_id_is_refused_with_what_to_do() -> None:
    with pytest.raises(Refusal) as caught:
        ingredient("moon_dust")
    assert caught.value.complaints[0].remedy


def test_tables_agree_with_each_other() -> None:
    ids = {item.id for item in everything()}
    assert {row["id"] for row in table("composition")} == {row["id"] for row in table("kinds")}
    assert {row["id"] for row in table("counts")} <= ids
    assert {row["id"] for row in table("household")} <= ids
    assert {part for row in table("like") for part in (row["id"], row["like"])} <= ids
    named = {row["id"] for row in table("names") if row["id"] != "?"}
    assert named <= ids
    offered = {choice for row in table("names") if row["id"] == "?" for choice in row["assumed"].split()}
    assert offered <= ids


def test_no_name_means_two_ingredients() -> None:
    """Two synonyms with the same words must lead to the same ingredient."""
    seen: dict[frozenset[str], str] = {}
    twice = []
    for row in _built_in():
        if row.shown or not row.ingredient_id:
            continue
        key = frozenset(row.words)
        if seen.setdefault(key, row.ingredient_id) != row.ingredient_id:
            twice.append((" ".join(row.words), seen[key], row.ingredient_id))
    assert twice == []
