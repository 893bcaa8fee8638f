"""The vector of a member's constants that the oven's compiled loops read, by index."""

(
    DRY_HEAT,  # heat capacity of dry matter [J/(kg·K)]
    DRY_VOLUME,  # volume of dense dry matter [m3/kg]
    K_WET,  # conductivity of dense dough at its first water [W/(m·K)]
    K_DRY,  # conductivity of dense dry matter [W/(m·K)]
    FIRST_WATER,  # [kg/kg dry]
    FAT,  # milk fat [kg/kg dry]
    FAT_OFFSET,
    FUSION,  # [J/kg fat]
    PRESSURE,  # [Pa]
    BOILING,  # boiling point at that pressure [°C]
    OPEN_CRUMB,
    OPEN_CRUST,
    GO_SHARE,  # 1 - return share
    K_CEILING,
    LIQUID_D,
    DARCY,  # steam's conductance by pressure [kg/(m·s·Pa)]
    CRUST_RATIO,
    PORE,
    CRUST_K,
    SORB_HALF,
    SORB_N,
    SORB_SHIFT,
    SET_K0,
    SET_E,
    BROWN_K0,  # with the recipe's factor
    BROWN_E,
    BROWN_END,
    BROWN_WET,
    BROWN_FACTOR,
    BROWN_SUGAR,  # rate of the sugar-and-amino path at 120 °C [1/s]
    BROWN_SUGAR_E,  # [J/mol]
    SOLUTE,  # water that solutes hold back, 0.018 times their osmoles [kg/kg dry]
    SET_SHIFT,  # how much later sugar lets starch set [K]
    ETHANOL,  # at the oven's door [kg/kg dry]
    RETAINED,
    START_C,  # temperature at the oven's door, mean [°C]
    START_MOLES,  # moles of free dry gas [mol/kg dry]
    DISSOLVED,  # carbon dioxide dissolved at the oven's door [mol/kg dry]
    GAS_RATE,  # yeast's gas at the oven's door [mol/(kg dry·s)]
) = range(39)
NPAR = 39

(
    S_FILM,  # convective film, top [W/(m2·K)]
    S_EMISSIVITY,
    S_WALL_STEP,
    S_COVER,  # conductance through the cover, or -1 where open
    S_LEAK,
    S_VENT,
    S_MASS_TOP,  # vapour film, top [kg/(m2·s·Pa)]
    S_TIN,  # from the air below to the tin's wall, or to the bare base [W/(m2·K)]
    S_CONTACT,  # from the middle of the wall to the dough [m2·K/W]
    S_TIN_HEAT,  # heat capacity of the tin's wall [J/(m2·K)]
    S_FLOOR_STEP,  # how much hotter than the air it is below the tin [K]
    S_MASS_BASE,
    S_VAPOUR,  # vapour pressure of the air [Pa]
    S_DOME,
    S_SIDES,  # share of what dries at the base that the tin's side walls let out besides, by their area over the plan
) = range(15)
NSTAGE = 15

OVEN_OBSERVABLES: tuple[str, ...] = (
    "core_c",
    "centre_c",
    "surface_c",
    "base_c",
    "mean_c",
    "loss",
    "colour_top",
    "lightness_top",
    "colour_base",
    "set_coldest",
    "height_mm",
    "water_mean",
)
"""Names of the observables, in the order of the last axis of `OvenRun.samples`."""
(
    OBS_CORE,
    OBS_CENTRE,
    OBS_SURFACE,
    OBS_BASE,
    OBS_MEAN,
    OBS_LOSS,
    OBS_COLOUR_TOP,
    OBS_LIGHTNESS_TOP,
    OBS_COLOUR_BASE,
    OBS_SET,
    OBS_HEIGHT,
    OBS_WATER,
) = range(12)
NOBS = 12
