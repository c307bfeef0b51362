"""Words that reach the pages from closed word lists of the kitchen, marked here so that they are translated.

The lists themselves know nothing of languages. A page says such a word through the filter `tr`; what stands
in no list is said as it is.
"""

from __future__ import annotations

from django.utils.translation import gettext_noop as _

MEALS_AND_COURSES = (
    _("breakfast"), _("lunch"), _("dinner"), _("pulse"), _("vegetable"), _("grain"), _("one-pot"), _("soup"),
    _("side"), _("sweet"), _("drink"), _("hot"), _("warm"), _("cool"),
)  # fmt: skip

PLACES_AND_FORMS = (
    _("counter"), _("cupboard"), _("fridge"), _("freezer"), _("whole"), _("picked"), _("washed"), _("peeled"),
    _("cut"), _("chopped"), _("grated"), _("ground"), _("soaked"), _("sprouted"), _("blanched"), _("boiled"),
    _("cooked"), _("dry"), _("liquid"), _("set"), _("frozen"),
)  # fmt: skip

FRESHNESS = (_("good"), _("use soon"), _("use today"), _("past its day"), _("not known"))

WORK = (
    _("pick"), _("wash"), _("peel"), _("cut"), _("grate"), _("grind"), _("mix"), _("knead"), _("soak"),
    _("sprout"), _("rest"), _("blanch"), _("boil"), _("pressure-cook"), _("steam"), _("simmer"), _("roast"),
    _("saute"), _("shallow-fry"), _("deep-fry"), _("temper"), _("griddle"), _("bake"), _("press"), _("assemble"),
    _("hands-on"), _("now-and-then"), _("hands-off"), _("none"), _("low"), _("medium"), _("high"),
    _("hands"), _("burner"), _("aside"),
)  # fmt: skip

VESSELS = (
    _("pressure cooker"), _("wok"), _("pot"), _("saucepan"), _("tempering ladle"), _("steamer"), _("grinder"),
    _("oven"), _("bowl"), _("box"),
)  # fmt: skip

PEOPLE_AND_RULES = (
    _("female"), _("male"), _("pregnant"), _("lactating"), _("low-salt advice"), _("infant"),
    _("old or weakened"), _("no onion or garlic"), _("fast"), _("guests"), _("away"),
    _("will not eat it"), _("rather not"), _("it was all right"), _("liked it"), _("loved it"),
)  # fmt: skip

STALLS = (
    _("greens"), _("roots and vegetables"), _("fruit"), _("dairy"), _("dry goods"), _("spices"),
)  # fmt: skip

ALLERGENS = (
    _("gluten"), _("milk"), _("nuts"), _("peanuts"), _("sesame"), _("mustard"), _("soya"), _("celery"),
    _("eggs"), _("fish"), _("crustaceans"), _("molluscs"), _("lupin"), _("sulphites"),
)  # fmt: skip

NUTRIENTS = (
    _("energy"), _("protein"), _("fibre"), _("iron"), _("calcium"), _("zinc"), _("folate"), _("vitamin B12"),
    _("vitamin A"), _("vitamin C"), _("sodium"), _("free sugar"), _("at least"), _("at most"), _("less than"),
)  # fmt: skip

LABEL = (
    _("Calories"), _("Energy"), _("Total fat"), _("Saturated fat"), _("Cholesterol"), _("Sodium"), _("Carbohydrate"),
    _("Total carbohydrate"), _("Dietary fibre"), _("Total sugars"), _("Added sugars"), _("Protein"), _("Vitamin D"),
    _("Calcium"), _("Iron"), _("Potassium"), _("kcal"), _("kJ"),
)  # fmt: skip

CALENDAR = (
    _("Monday"), _("Tuesday"), _("Wednesday"), _("Thursday"), _("Friday"), _("Saturday"), _("Sunday"),
    _("January"), _("February"), _("March"), _("April"), _("May"), _("June"), _("July"), _("August"),
    _("September"), _("October"), _("November"), _("December"),
    _("Mon"), _("Tue"), _("Wed"), _("Thu"), _("Fri"), _("Sat"), _("Sun"),
    _("Jan"), _("Feb"), _("Mar"), _("Apr"), _("Jun"), _("Jul"), _("Aug"), _("Sep"), _("Oct"), _("Nov"), _("Dec"),
)  # fmt: skip

DEEDS = (
    _("bought"), _("used"), _("eaten"), _("binned"), _("opened"), _("moved"),
    _("accept the plan"), _("add to the shelf"), _("begin to cook"), _("bench: done"), _("bench: not done"),
    _("buy"), _("change a dish"), _("cook a dish"), _("forget a name"), _("leave the proposal"),
    _("leave the stove"), _("lock a dish"), _("log binned"), _("log eaten"), _("log used"), _("move a lot"),
    _("open a lot"), _("plan the days"), _("refuse a dish"), _("show a photo"), _("take a photo off"),
    _("take over the price paid"), _("teach a name"), _("weigh a dish"), _("welcome a dish again"),
    _("write a dish"), _("stove: begin"), _("stove: done"), _("stove: more"), _("stove: again"),
    _("stove: pause"), _("stove: resume"), _("stove: skip"), _("add a day rule"), _("remove a day rule"),
    _("set a meal time"), _("set down a person"), _("set the market days"), _("set the vessels"),
    _("set up the house"), _("set what comes first"), _("take a person off"), _("take back"),
    _("forget what a food taught"),
)  # fmt: skip

PLAN = (
    _("waste"), _("money"), _("shortfall"), _("excess"), _("repetition"), _("liking"), _("minutes"), _("missed"),
    _("proven best"), _("found, not proven best"), _("proven impossible"), _("nothing found in time"),
)  # fmt: skip

COUNTED = (_("dishes"), _("lots"), _("actions"), _("ledger rows"), _("plans"))

MORE_NUTRIENTS = (
    _("Energy"), _("Water"), _("Protein, total, from nitrogen"), _("Fat, total"),
    _("Carbohydrate, available, by difference"), _("Dietary fibre, total"),
    _("Sugars, total (mono- and disaccharides)"), _("Calcium"), _("Iron"), _("Magnesium"), _("Phosphorus"),
    _("Potassium"), _("Sodium"), _("Zinc"), _("Copper"), _("Manganese"), _("Selenium"), _("Vitamin C"),
    _("Thiamin (B1)"), _("Riboflavin (B2)"), _("Niacin (B3), preformed"), _("Pantothenic acid (B5)"),
    _("Vitamin B6"), _("Biotin (B7)"), _("Folate, total (B9)"), _("Vitamin B12"),
    _("Vitamin A (retinol activity equivalents)"), _("beta-Carotene"), _("Vitamin D (D2 + D3)"),
    _("Vitamin E (alpha-tocopherol equivalents)"), _("Vitamin K1 (phylloquinone)"), _("Fatty acids, saturated"),
    _("Retinol"), _("Free sugars (added, and of honey, syrup and juice)"),
    _("Fatty acids, monounsaturated"), _("Fatty acids, polyunsaturated"), _("Cholesterol"),
)  # fmt: skip
"""Names of the tables for what a dish's page shows first; the long tail of acids and sterols stays as printed."""

CAUTIONS = (
    _("Cool cooked rice within an hour, keep it a day in the refrigerator at most, and reheat it once, until it steams."),
    _("With fresh garlic, herbs, ginger or chillies in oil: make it fresh, keep it in the refrigerator, use it within 4 days. Never leave it out."),
    _("Fill a pressure cooker to two thirds at most, to half with pulses; see that the vent is clear; open it only when the pressure is gone."),
    _("Keep sprouts at 5 °C or colder and cook them until they steam all through."),
    _("Soak kidney beans, pour that water away, and boil them hard for at least 10 minutes (the FDA says 30) before they simmer; never only warm them."),
    _("Honey is not for infants under 12 months."),
    _("Paneer and fresh cheese only from milk that has boiled; for anyone pregnant or frail, heat them through."),
    _("Bring loose milk to the boil and let it rise before anyone drinks it or sets curd with it."),
    _("Taste a raw shaving of every gourd first; if it is unusually bitter, spit it out and throw the whole gourd away."),
    _("Cut away green skin and sprouts; a potato that tastes bitter goes in the bin."),
    _("Broad beans are not for people with G6PD deficiency (favism)."),
    _("Peel cassava, cut it small, boil it in plenty of water and pour that away."),
    _("A home-made preserve stays in the refrigerator, taken out with a clean dry spoon; with any mould the whole jar goes."),
    _("Leaves that are eaten raw are washed in several changes of clean water."),
    _("A fermented batter stays in the refrigerator once it has risen."),
    _("Never leave hot oil; dry what goes in; a lid, never water, puts out burning oil."),
    _("Vegetables, pulses and gravies are never bottled at home without a pressure canner and a tested process; boiling water, oven and open kettle do not do. Freeze them instead."),
    _("A pickle under oil is safe by its acid or its salt, not by its oil: a mild, low-salt one stays in the refrigerator."),
    # xgettext:no-python-format
    _("Fermented vegetables and kanji: salt as in a tested recipe (2 to 2.5 % of the weight), kept under the brine, into the refrigerator once sour."),
    _("Potatoes baked in foil, cooked garlic in butter and cheese sauce are eaten hot or chilled within 2 hours."),
    _("Cut melon, cut tomatoes and cut leaves go into the refrigerator at 5 °C or colder; out of it 4 hours at most."),
    _("Keep potatoes in the dark and away from onions; one that is green through or has long sprouts goes in the bin."),
)  # fmt: skip
"""The cautions of the table `keeping_cautions`, word for word."""

SETTINGS = (
    _("Burners"), _("Small ones among the burners"), _("Who can cut and knead at once"), _("Cooks at one time"), _("Fridge"), _("Freezer"), _("Room"), _("Height above the sea"), _("Cup"),
    _("Katori"), _("Tablespoon"), _("Teaspoon"), _("For a week’s market"),
)  # fmt: skip

PACKS = (_("bunch"), _("bunches"), _("litre"), _("and"))

LISTS = (_("market"), _("bench"), _("labels"), _("run-sheet"))

FIELDS = (
    _("amount"), _("paid"), _("people"), _("burners"), _("budget"), _("plan"), _("food"), _("dish"), _("person"),
    _("photo"), _("narration"), _("file"), _("stove"), _("name"), _("course"), _("portions"), _("lines"), _("steps"),
)  # fmt: skip
"""Fields that a complaint names."""
