"""Lists without headings, columns without units, yeast without a kind: read only where the text shows it."""

from oventide.formula.model import Line
from oventide.intake.text import read_recipe

DOUGH = "500 g plain flour\n250 ml milk\n60 g sugar\n7 g dried yeast\n"


def parts(text: str) -> dict[str, list[str]]:
    product = read_recipe(text)
    return {part.kind: [line.name for line in part.lines] for part in product.formula.components}


def line_of(text: str, name: str) -> Line:
    return next(line for part in read_recipe(text).formula.components for line in part.lines if name in line.name)


def test_groups_set_apart_by_empty_lines() -> None:
    found = parts(
        f"Nut rolls\n\n{DOUGH}\n200 g ground hazelnuts\n100 g sugar\n\n150 g icing sugar\n2 tbsp lemon juice\n"
    )
    assert [len(names) for names in found.values()] == [4, 2, 2]
    assert list(found) == ["dough", "filling", "glaze"]


def test_groups_that_both_hold_flour_stay_one() -> None:
    assert list(parts(f"Rolls\n\n{DOUGH}\n100 g plain flour\n50 g butter\n")) == ["dough"]


def test_lines_that_name_their_place() -> None:
    found = parts(f"Rolls\n{DOUGH}1 egg, beaten, to glaze\n100 g icing sugar, for the icing\nKnead 10 minutes.")
    assert (found["wash"], found["glaze"], len(found["dough"])) == (["egg"], ["icing sugar"], 4)


def test_what_is_named_only_where_the_filling_is_spread() -> None:
    found = parts(
        f"Rolls\n{DOUGH}2 apples, diced\nKnead 10 minutes. Roll to 30 x 40 cm. Scatter with the apples. Roll up."
    )
    assert found["filling"] == ["apples"]
    kneaded = parts(
        f"Rolls\n{DOUGH}100 g raisins\nKnead in the raisins. Roll to 30 x 40 cm. Sprinkle with flour. Roll up."
    )
    assert "filling" not in kneaded


def test_a_column_of_bare_figures_is_grams() -> None:
    flour = line_of("Rolls\n\nIngredients\nbread flour 750\nmilk 400\nyolks 120\nbutter 200\n", "yolks")
    assert flour.grams is not None
    assert (flour.unit, flour.grams.likely) == ("g", 120)


def test_yeast_by_its_share_of_the_flour() -> None:
    assert line_of("Rolls\n500 g flour\n20 g yeast\n", "yeast").ingredient == "yeast_fresh"
    assert line_of("Rolls\n500 g flour\n7 g yeast\n", "yeast").ingredient == "yeast_instant_dry"


def test_columns_of_a_tabbed_sheet() -> None:
    text = "Rolls\n\tkg\t%\nDough\nBread flour\t1.400\t70\nSalt\t0.036\n"
    salt = line_of(text, "Salt")
    assert salt.grams is not None
    assert (salt.grams.likely, salt.text) == (36, "Salt\t0.036")


def test_yeast_and_salt_after_an_empty_line_are_still_the_dough() -> None:
    assert list(parts("Rolls\n\n500 g plain flour\n300 ml milk\n\n7 g dried yeast\n10 g salt\n")) == ["dough"]


def test_a_sheet_set_in_columns_by_spaces_is_read_by_its_heads() -> None:
    """A line whose figures were taken for pieces would weigh ten kilos of eggs."""
    text = (
        "Seeded whirls\n\nDough            %      g\nBread flour      100    1000\nWhole eggs       20     200\n"
        "Butter           25     250\nInstant yeast    1.5    15\n\nProcedure\nDDT 75°F. Mix 10 min.\n"
        "Retard overnight at 38°F, 10-14 hours.\nBake 375°F for 18 min.\n"
    )
    product = read_recipe(text)
    lines = product.formula.components[0].lines
    assert [line.grams.likely for line in lines if line.grams is not None] == [1000, 200, 250, 15]
    assert any("%" in note for note in product.notes.splitlines())
    mix, retard = product.procedure.steps[:2]
    assert mix.target is not None
    assert round(mix.target.value, 1) == 23.9
    assert retard.minutes is not None
    assert (retard.minutes.low, retard.minutes.high, retard.air_c) == (600, 840, 3.3)
