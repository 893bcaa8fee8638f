"""Names as people type them. The rows are our own wordings; slips are offered and never chosen."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from oventide.pantry.ingredients import known
from oventide.pantry.names import _built_in, _built_in_index, find, words_of
from oventide.pantry.own import read_own

TYPED = """
plain flour = flour_ap_unenriched
all-purpose flour, plus extra for dusting = flour_ap_unenriched
AP flour = flour_ap_unenriched
Strong white bread flour = flour_bread_unenriched
white strong flour = flour_bread_unenriched
bread flour (sifted) = flour_bread_unenriched
flour, strong white = flour_bread_unenriched
very strong Canadian flour = flour_ind_13
high-gluten flour = flour_ind_13
T45 = flour_t45
T55 flour = flour_t55
farine de tradition = flour_t65
type 405 = flour_405
Type 550 wheat flour = flour_550
Weizenmehl Type 812 = flour_812
type 1050 flour = flour_1050
tipo 00 = flour_00
“00” flour = flour_00
wholemeal flour = flour_wholewheat
whole-wheat bread flour = flour_wholewheat
dark rye flour = flour_rye_dark
wholemeal spelt flour = flour_spelt_wholemeal
self-raising flour = flour_self_raising
cornflour = cornstarch
corn starch = cornstarch
potato starch = starch_potato
caster sugar = sugar_caster
superfine sugar = sugar_caster
golden caster sugar = sugar_caster
granulated sugar = sugar_granulated
icing sugar, sifted = sugar_icing
powdered sugar = sugar_icing
confectioners’ sugar = sugar_icing
confectioner's sugar = sugar_icing
light soft brown sugar = sugar_brown
dark brown sugar, packed = sugar_brown
demerara = sugar_demerara
dark muscovado sugar = sugar_muscovado_dark
pearl sugar, to finish = sugar_pearl
golden syrup = golden_syrup
black treacle = treacle_black
runny honey = honey
honey (runny) = honey
diastatic malt powder = malt_powder_diastatic
barley malt syrup = syrup_malt
unsalted butter, softened = butter_unsalted
butter, cold, cut into 1 cm cubes = butter_unsalted
soft unsalted butter at room temperature = butter_unsalted
salted butter = butter_salted
cultured butter = butter_cultured_82
brown butter, cooled = butter_browned
ghee = butter_ghee
stick margarine = margarine_80
vegan butter = butter_plant
lard = lard
vegetable shortening = shortening_veg
olive oil = oil_olive
rapeseed oil = oil_rapeseed_canola
lukewarm full-fat milk = milk_whole_unfort
whole milk, warmed to 30 °C = milk_whole_unfort
semi-skimmed milk = milk_semi_2pct
2% milk = milk_semi_2pct
skim milk = milk_skim
buttermilk = buttermilk_low_fat
dried skimmed milk powder = milk_dry_skim
non-fat dry milk = milk_dry_skim
sweetened condensed milk = milk_condensed_sweet
double cream = cream_double
single cream = cream_single
heavy whipping cream = cream_heavy
soured cream = cream_sour
crème fraîche = creme_fraiche
Greek-style yogurt = yogurt_greek
natural yoghurt = yogurt_plain_whole
oat milk = drink_oat
eggs = egg_whole
large free-range eggs, beaten = egg_whole
egg yolks = egg_yolk
egg white, lightly beaten = egg_white
fresh yeast, crumbled = yeast_fresh
compressed yeast = yeast_fresh
cake yeast = yeast_fresh
active dry yeast = yeast_active_dry
fast-action dried yeast = yeast_instant_dry
easy-blend yeast = yeast_instant_dry
instant yeast (or 20 g fresh) = yeast_instant_dry
osmotolerant instant yeast = yeast_osmotolerant
fine sea salt = salt_sea_fine
kosher salt = salt_kosher
flaky sea salt = sea_salt_flakes
salt = salt_table
boiling water = water_tap
iced water = water_tap
freshly ground cardamom = cardamom
ground cinnamon = cinnamon_ground
freshly grated nutmeg = nutmeg
vanilla bean paste = vanilla_paste
seeds of 1 vanilla pod = vanilla_pod
grated zest of half an orange = orange_zest
zest of 1 lemon = lemon_zest
juice of 1 lemon = lemon_juice
juice from 2 limes = lime_juice
poppy seeds, ground = poppy_seed
black sesame seeds = sesame_black
toasted hazelnuts, roughly chopped = hazelnuts_roasted
ground almonds = almonds_ground
almond flour = almonds_ground
flaked almonds for the top = almonds_flaked
sultanas, soaked overnight = raisins_golden
mixed peel = peel_candied
dried apricots, finely chopped = apricots_dried
70% dark chocolate = chocolate_dark_70_85
plain chocolate, chopped = chocolate_dark_45_59
dark chocolate chips = chocolate_dark_chips
white chocolate = chocolate_white
unsweetened cocoa powder = cocoa_natural
hazelnut spread = choc_hazelnut_spread
raspberry jam = raspberry_jam_seedless
plum butter = plum_butter
cream cheese, cold = cream_cheese
grated mature cheddar = cheese_cheddar
crumbled feta = cheese_feta
ham, finely chopped = ham_sliced
potatoes, boiled and mashed = potato_mashed
mashed floury potatoes = potato_mashed
fresh parsley leaves, chopped = parsley_fresh
garlic cloves, crushed = garlic_raw
orange blossom water = orange_flower_water
dark rum = rum
bicarbonate of soda = baking_soda
baking powder = baking_powder
cream of tartar = cream_of_tartar
half-and-half = cream_half_and_half
""".strip().splitlines()


@pytest.mark.parametrize("row", TYPED)
def test_a_name_as_typed_is_found(row: str) -> None:
    typed, expected = row.rsplit(" = ", 1)
    found = find(typed)
    assert found.ingredient_id == expected, found
    assert found.certainty in ("exact", "synonym")


@pytest.mark.parametrize(
    ("typed", "expected", "said"),
    [
        ("butter", "butter_unsalted", "unsalted"),
        ("milk", "milk_whole_unfort", "whole"),
        ("flour", "flour_ap_unenriched", "plain"),
        ("yeast", "yeast_instant_dry", "kind of yeast"),
        ("dried yeast", "yeast_active_dry", "active dry"),
        ("cream", "cream_35", "35 %"),
        ("oil", "oil_rapeseed_canola", "rapeseed"),
        ("chocolate", "chocolate_dark_60_69", "dark"),
        ("vanilla", "vanilla_extract", "extract"),
        ("cauliflower", "broccoli_raw", "figures of broccoli"),
        ("butter + lard", "butter_unsalted", "after the plus sign"),
        ("milk or water", "milk_whole_unfort", "the first is taken"),
        ("Gull Wharf Mill strong white flour", "flour_bread_unenriched", "gull"),
    ],
)
def test_a_choice_that_is_made_for_the_baker_is_said(typed: str, expected: str, said: str) -> None:
    found = find(typed)
    assert found.ingredient_id == expected
    assert any(said in sentence.lower() for sentence in found.assumed), found.assumed


@pytest.mark.parametrize(
    ("typed", "near"),
    [
        ("cardamonm", "cardamom"),
        ("buttter", "butter_unsalted"),
        ("strong white brread flour", "flour_bread_unenriched"),
        ("cinamon", "cinnamon_ground"),
        ("muscavado sugar", "sugar_muscovado_light"),
        ("mascarpne", "mascarpone"),
        ("pistachoi", "pistachios"),
        ("bicarbonate of sodda", "baking_soda"),
        ("granluated sugar", "sugar_granulated"),
    ],
)
def test_a_slip_is_offered_and_not_chosen(typed: str, near: str) -> None:
    found = find(typed)
    assert found.ingredient_id is None
    assert found.certainty == "near"
    assert near in found.offered


@pytest.mark.parametrize(
    "typed",
    [
        "macadamia butter", "pea flour", "rose petal jam", "dried blueberries", "gluten-free flour", "cheese", "nuts",
        "mixed seeds", "yak milk", "syrup", "butter beans", "banana flour", "sugar-free icing", "spice", "",
        "   ", "42", "or", "()", ",", "xyzzy", "bread", "hemp milk", "egg replacer", "lactose-free cream",
    ],
)  # fmt: skip
def test_what_is_not_known_is_not_guessed(typed: str) -> None:
    found = find(typed)
    assert found.ingredient_id is None, found
    assert found.certainty in ("near", "none")


@given(st.text(max_size=120))
def test_any_text_is_found_or_offered(text: str) -> None:
    found = find(text)
    assert (found.ingredient_id is None) == (found.certainty in ("near", "none"))
    assert all(known(name) for name in found.offered)
    assert len(found.offered) <= 5
    if found.ingredient_id is not None:
        assert known(found.ingredient_id)


LONG_WORDS = sorted(
    {row.words[0] for row in _built_in() if len(row.words) == 1 and len(row.words[0]) >= 8 and row.ingredient_id}
)


@given(st.sampled_from(LONG_WORDS), st.data())
def test_one_letter_missing_from_a_long_name_is_offered_first_of_all(word: str, data) -> None:
    at = data.draw(st.integers(1, len(word) - 2))
    slip = word[:at] + word[at + 1 :]
    if frozenset(words_of(slip)) in _built_in_index() or words_of(slip) == words_of(word):
        return
    found = find(slip)
    assert found.ingredient_id is None
    assert find(word).ingredient_id in found.offered


@given(st.sampled_from([row for row in _built_in() if row.ingredient_id and not row.shown]))
def test_every_name_in_the_table_finds_its_own_ingredient(row) -> None:
    assert find(" ".join(row.words)).ingredient_id == row.ingredient_id


def test_words_of_preparation_are_set_aside() -> None:
    assert set(find("unsalted butter, softened").set_aside) == {"softened"}


def test_own_ingredients_stand_before_the_built_in_ones() -> None:
    own = read_own('[[ingredient]]\nname = "Quay strong"\nnames = ["bread flour"]\nlike = "flour_bread_unenriched"\n')
    assert find("bread flour", own).ingredient_id == "quay_strong"
    assert find("Quay strong", own).certainty == "exact"
    assert find("caster sugar", own).ingredient_id == "sugar_caster"
