"""Words of a method that decide which step a sentence is."""

import re

COLDEST_ROOM_C = 15.0
"""Air up to this belongs to a fridge or freezer [°C]."""

PREFERMENT = re.compile(
    r"\b(?:sponge|poolish|biga|pre-?ferment|pre-?dough|levain|tangzhong|yudane|soaker|roux|starter)\b", re.I
)
DOUGH = re.compile(r"\b(?:dough|knead|rest of|remaining|everything|all (?:the )?ingredients|final)\b", re.I)
BESIDE = re.compile(
    r"\b(?:filling|glaze|icing|frosting|syrup|custard|streusel|crumb(?:le)?|topping|"
    r"onions?|dates|apples?|pears?|spinach|jam|"
    r"curd|yeast (?:mixture )?until foamy|foamy|frothy)\b",
    re.I,
)
OPTION = re.compile(
    r"\b(?:optional(?:ly)?|option|if (?:you )?(?:like|wish|prefer|want|making|baking)|"
    r"alternatively|(?:you )?can (?:also |either )?(?:be|now|chill|refrigerate|freeze)|"
    r"may be|make[- ]ahead|or (?:refrigerate|chill|overnight))\b",
    re.I,
)
COVER = re.compile(
    r"\bcover(?:ed)?\b|\bcling\b|\bfilm\b|\bplastic wrap\b|\blid\b|\btea ?towel\b|\bdamp cloth\b|\bclingfilm\b", re.I
)
WARM = re.compile(
    r"\b(?:warm (?:place|spot|corner)|somewhere warm|airing cupboard|proving (?:box|drawer)|warm (?:room|kitchen))\b",
    re.I,
)
FINAL = re.compile(
    r"\b(?:final|second|last) (?:proof|prove|rise|proving|rising|fermentation)\b|^(?:proof|prove)\b(?! (?:the )?(?:dough|yeast))",
    re.I,
)
RISES = re.compile(r"\b(?:ris(?:e|en|es|ing)|prov\w+|proof\w*|ferment\w*|bulk|doubl\w+|puff\w+)\b", re.I)
