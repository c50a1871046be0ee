"""Plans with a danger in them, each a sound plan with few lines changed, and the danger's words."""

from running import Danger, Lines

WATCH = 'watch "duty potter" from 16:00 to end'
GAS_WATCH = 'watch "duty potter" throughout'
VENT = "vent downdraft, on throughout"
KILN = "electric, front door, 230 L, 11 kW"
GAS_KILN = "propane, front door, 400 L, outdoors"
CUT_OFF = 'cut-off backup "over-temperature device with its own sensor"'
GAS_LINE = "gas line inspected 2026-05 by a licensed gas fitter"
EXTINGUISHER = 'extinguisher "CO2, outside the kiln room"'
GLAZE = 'glaze "Reed ash" matures cone 8 to cone 10, stiff'
CLAY = 'clay "Marsh buff" matures cone 8 to cone 10, stoneware'
MUGS = 'ware "mugs" 24 of "Marsh buff" with "Reed ash", bisque, wall 6 mm, foot wiped 6 mm'
BOWLS = 'ware "bowls" 12 of "Marsh buff" with "Reed ash", bisque, wall 7 mm, foot wiped 6 mm'
GAS_INDOORS: dict[str, Lines] = {GAS_KILN: "propane, front door, 400 L, indoors"}

ALONE = r"nobody|alone|watch"
FUEL = r"fuel|gas"


def _gas(claim: str, watch: Lines, words: str = ALONE, **kiln: str) -> Danger:
    heat = {GAS_KILN: kiln["kiln"]} if kiln else {}
    return Danger(claim, {GAS_WATCH: watch, **heat}, words, "gas")


# -- a burning kiln that nobody is at -----------------------------------------------------------

WATCHES = [
    _gas("gas, alone from lighting on", 'watch "duty potter" from 16:00 to end'),
    _gas("gas, watched from the guide on", 'watch "duty potter" from guide to end'),
    _gas("gas, watched from a heat on", 'watch "duty potter" from 600 C to end'),
    _gas("gas, watched five minutes late", 'watch "duty potter" from 06:05 to end'),
    _gas("gas, shut off by nobody", 'watch "duty potter" from 06:00 to 12:00'),
    _gas(
        "gas, an hour between two people",
        ['watch "morning group" from 06:00 to 13:00', 'watch "duty potter" from 14:00 to end'],
    ),
    _gas(
        "gas, an hour between two people, in the other order",
        ['watch "duty potter" from 14:00 to end', 'watch "morning group" from 06:00 to 13:00'],
    ),
    _gas("wood, alone at first", 'watch "duty potter" from 12:00 to end', kiln="wood, outdoors"),
    _gas("oil, alone at first", 'watch "duty potter" from 12:00 to end', kiln="oil, outdoors"),
    _gas(
        "natural gas, alone at first",
        'watch "duty potter" from 12:00 to end',
        kiln="natural gas, outdoors",
    ),
    Danger(
        "gas, and no time of day by which anybody could tell",
        {GAS_WATCH: 'watch "duty potter" from 16:00 to end', "starts 2026-10-17 06:00": ""},
        ALONE,
        "gas",
    ),
    Danger("raku, alone at first", {'watch "raku group" throughout': WATCH}, ALONE, "raku"),
    Danger("electric, its end alone", {WATCH: 'watch "duty potter" from 08:00 to 18:00'}, "ends"),
    Danger("electric, nobody at all", {WATCH: ""}, "watch"),
    Danger("electric, nobody by word", {WATCH: "watch nobody"}, "nobody"),
    Danger("a camera watches", {WATCH: 'watch "the camera" throughout'}, "nobody|thing"),
    Danger("the controller watches", {WATCH: 'watch "controller" throughout'}, "nobody|thing"),
    Danger("a phone app watches", {WATCH: 'watch "app on my phone" throughout'}, "nobody|thing"),
    Danger("the sitter watches", {WATCH: 'watch "kiln sitter" throughout'}, "nobody|thing"),
    Danger("by camera from home", {WATCH: 'watch "duty potter, from home" throughout'}, "nobody"),
    Danger("asleep upstairs", {WATCH: 'watch "duty potter, asleep upstairs" throughout'}, "nobody"),
    Danger("watched by a dash", {WATCH: 'watch "-" throughout'}, ALONE),
    Danger("watched by a question mark", {WATCH: 'watch "?" from 16:00 to end'}, ALONE),
    Danger("watched by no one", {WATCH: 'watch "no one" from 16:00 to end'}, ALONE),
    Danger("watched by a word for a name", {WATCH: 'watch "name" from 16:00 to end'}, ALONE),
    Danger("watched by tbd", {WATCH: 'watch "tbd" from 16:00 to end'}, ALONE),
    Danger(
        "36 hours, and a watch that names no day",
        {
            "hold 30 min": "hold 24 h",
            WATCH: 'watch "duty potter" from 16:00 to 22:00',
        },
        "day",
        at="watch",
    ),
    Danger(
        "44 hours, and a night watch that names no day",
        {"hold 30 min": "hold 31 h", WATCH: 'watch "duty potter" from 20:00 to 04:00'},
        "day|nobody|ends",
        at="watch",
    ),
    Danger(
        "36 hours, watched on the first day only",
        {
            "hold 30 min": "hold 24 h",
            WATCH: 'watch "duty potter" from 2026-10-03 16:00 to 2026-10-03 22:00',
        },
        "ends",
        at="watch",
    ),
    Danger(
        "a gas kiln over night, watched by day without a date",
        {
            "hold 30 min": "hold 20 h",
            GAS_WATCH: [
                'watch "morning group" from 06:00 to 18:00',
                'watch "duty potter" from 18:00 to 06:00',
            ],
        },
        "day",
        "gas",
    ),
]

# -- what heats the kiln is not said: it is held to be both ------------------------------------

UNSAID: dict[str, Lines] = {KILN: "front door, 230 L, 11 kW"}
BOTH = [
    Danger("fuel unsaid: no alarm for carbon monoxide", UNSAID, "carbon monoxide"),
    Danger("fuel unsaid: nothing if the flame goes out", UNSAID, "flame safety"),
    Danger("fuel unsaid: no air for a flame", UNSAID, "air"),
    Danger("fuel unsaid: gas line not inspected", UNSAID, "gas line"),
    Danger("fuel unsaid: alone at first", UNSAID, ALONE, at="watch"),
    Danger("fuel unsaid: gas not shut off", UNSAID, "shut off"),
    Danger("fuel unsaid: water at hand", UNSAID | {EXTINGUISHER: 'extinguisher "water"'}, "water"),
    Danger("no kiln at all: no alarm", {"section:kiln": ""}, "carbon monoxide"),
    Danger("no kiln at all: gas line", {"section:kiln": ""}, "gas line"),
    Danger("fuel unsaid stops a commit", UNSAID, "what heats the kiln", weight="doubt", at="kiln"),
]

# -- gas ------------------------------------------------------------------------------------------

GAS = [
    Danger("gas line not inspected", {GAS_LINE: ""}, "gas line", "gas"),
    Danger(
        "gas line inspected by nobody",
        {GAS_LINE: 'gas line inspected 2026-05 by "nobody at all"'},
        "gas line",
        "gas",
        at="gas line",
    ),
    Danger(
        "gas line inspected without a licence",
        {GAS_LINE: 'gas line inspected 2026-05 by "the duty potter"'},
        "licen",
        "gas",
        at="gas line",
    ),
    Danger(
        "gas line inspected by an unlicensed fitter",
        {GAS_LINE: 'gas line inspected 2026-05 by "an unlicensed gas fitter"'},
        "licen",
        "gas",
        at="gas line",
    ),
    Danger(
        "gas line inspected by an electrician",
        {GAS_LINE: "gas line inspected 2026-05 by a licensed electrician"},
        "gas fitter",
        "gas",
        at="gas line",
    ),
    Danger(
        "gas line inspected long ago",
        {GAS_LINE: "gas line inspected 1999-01 by a licensed gas fitter"},
        "inspected",
        "gas",
        at="gas line",
    ),
    Danger(
        "gas line inspected four years ago",
        {GAS_LINE: "gas line inspected 2022-05-02 by a licensed gas fitter"},
        "inspected",
        "gas",
        at="gas line",
    ),
    Danger(
        "gas line to be inspected after the firing",
        {GAS_LINE: "gas line inspected 2026-12 by a licensed gas fitter"},
        "inspect",
        "gas",
        at="gas line",
    ),
    Danger(
        "gas line inspected, nobody knows when",
        {GAS_LINE: "gas line inspected by a licensed gas fitter"},
        "inspect",
        "gas",
        at="gas line",
    ),
    Danger("raku: gas line not inspected", {GAS_LINE: ""}, "gas line", "raku"),
    Danger(
        "power off alone at a gas kiln",
        {"gas off before unloading": "power off before unloading"},
        "shut off",
        "gas",
    ),
    Danger("nothing shut off at a gas kiln", {"gas off before unloading": ""}, "shut off", "gas"),
    Danger("no flame safety", {"flame safety fitted": "flame safety none"}, "flame", "gas"),
    Danger(
        "gas indoors without an alarm",
        GAS_INDOORS | {"CO alarm fitted": ""},
        "carbon monoxide",
        "gas",
    ),
    Danger(
        "gas indoors under an open window",
        GAS_INDOORS | {"vent hood, on throughout": "vent window open, on throughout"},
        "hood|flue",
        "gas",
    ),
    Danger(
        "gas indoors, the door open",
        GAS_INDOORS | {"vent hood, on throughout": 'vent "door open", on throughout'},
        "hood|flue",
        "gas",
    ),
    Danger(
        "reduction in a kiln too cool to light the gas",
        {"reduce from 950 C": "reduce from 600 C"},
        "light",
        "gas",
    ),
    Danger(
        "reduction goes on while the kiln cools to dull red",
        {"reduce from 950 C": "reduce from 950 C to 500 C"},
        "light",
        "gas",
    ),
    Danger(
        "reduction too cool, in °F",
        {"reduce from 950 C": "reduce from 1100 F"},
        "light",
        "gas",
    ),
    Danger(
        "a target in reduction that never gets hot enough",
        {"target 980 C, oxidation": "target 700 C, reduction", "climb 400 C/h to 980 C": ""},
        "light",
        "raku",
    ),
]

# -- fumes, food, lead -------------------------------------------------------------------------

WINDOW: dict[str, Lines] = {VENT: "vent window open, on throughout"}
FUMES = [
    Danger("manganese by a window", WINDOW | {GLAZE: f"{GLAZE}, contains manganese"}, "manganese"),
    Danger(
        "manganese in the name, by a window",
        WINDOW
        | {
            GLAZE: 'glaze "Manganese gold" matures cone 8 to cone 10, stiff',
            MUGS: MUGS.replace("Reed ash", "Manganese gold"),
            BOWLS: "",
        },
        "manganese",
    ),
    Danger("sulphur by a window", WINDOW | {CLAY: f"{CLAY}, contains sulphur"}, "sulphur"),
    Danger("lustre by a window", WINDOW, "window|fumes", "lustre"),
    Danger("lustre by an open door", {VENT: 'vent "door ajar", on throughout'}, "window", "lustre"),
    Danger(
        "manganese with the vent broken",
        {VENT: 'vent downdraft "broken", on throughout', GLAZE: f"{GLAZE}, contains manganese"},
        "manganese",
    ),
    Danger("a glaze that contains lead", {GLAZE: f"{GLAZE}, contains lead"}, "lead"),
    Danger("a glaze that contains cadmium", {GLAZE: f"{GLAZE}, contains cadmium"}, "cadmium"),
    Danger(
        "lead in a glaze's name",
        {
            GLAZE: 'glaze "Red lead amber" matures cone 8 to cone 10, stiff',
            MUGS: MUGS.replace("Reed ash", "Red lead amber"),
            BOWLS: "",
        },
        "lead",
    ),
    Danger("lead in a note", {"firing glaze": ["firing glaze", 'note "one lead glaze"']}, "lead"),
    Danger("lead in a remark", {GLAZE: f"{GLAZE}   # has litharge in it"}, "litharge|lead"),
    Danger(
        "cadmium in a note",
        {"firing glaze": ["firing glaze", 'note "test of the cadmium red"']},
        "cadmium",
    ),
    Danger("lead in the clay", {CLAY: f"{CLAY}, contains lead"}, "lead"),
    *[
        Danger(f"a claim: {claim}", {"firing glaze": ["firing glaze", f'note "{claim}"']}, "food")
        for claim in (
            "all of it food safe",
            "Reed ash is food-safe",
            "foodsafe tableware",
            "glazes are safe for food",
            "fit for food and drink",
            "dinnerware safe",
            "suitable for eating from",
        )
    ],
    Danger("a claim in a ware's name", {MUGS: MUGS.replace("mugs", "food safe mugs")}, "food"),
    Danger("a claim in a remark", {MUGS: f"{MUGS}  # food safe"}, "food"),
    Danger(
        "a claim in the plan's name",
        {'plan "Saturday stoneware"': '+plan "Food safe stoneware"'},
        "food",
    ),
]

# -- things that are none -----------------------------------------------------------------------

VENTS = ('"none"', '"-"', '"nothing"', '"out of order"', '"broken"', '"not working"', '"n/a"')
THINGS = [
    *[
        Danger(f"a vent that is {words}", {VENT: f"vent {words}, on throughout"}, "vent")
        for words in VENTS
    ],
    Danger("no vent", {VENT: ""}, "vent"),
    Danger("the vent off", {VENT: "vent off"}, "vent"),
    *[
        Danger(f"gloves: {words}", {"hands heat gloves": f'hands "{words}"'}, "hands")
        for words in (
            "none",
            "no gloves",
            "-",
            "rubber gloves",
            "latex gloves",
            "oven mitts",
            "bare hands",
            "a wet towel",
        )
    ],
    *[
        Danger(f"lenses: {words}", {"eyes shade 4": f'eyes "{words}"'}, "eyes")
        for words in (
            "none",
            "-",
            "nothing",
            "sunglasses",
            "dark sunglasses",
            "clear safety glasses",
            "reading glasses",
            "squinting",
        )
    ],
    Danger("sunglasses by word", {"eyes shade 4": "eyes sunglasses"}, "eyes"),
    *[
        Danger(f"at live elements: {words}", {EXTINGUISHER: f'extinguisher "{words}"'}, "water")
        for words in (
            "water",
            "a bucket of water by the door",
            "garden hose",
            "foam",
            "water and CO2",
            "CO2, and a bucket of water",
        )
    ],
]

# -- dangers that hang on a number which a studio may move -----------------------------------------

NUMBERS = [
    Danger(
        "a once-fired load smokes before the vent is on",
        {"firing glaze": "firing once", VENT: "vent downdraft, on from 200 C"},
        "smokes|vent",
        at="vent",
    ),
    Danger(
        "a once-fired load smokes after the vent is off",
        {"firing glaze": "firing once", VENT: "vent downdraft, on until 800 C"},
        "smokes|vent",
        at="vent",
    ),
    Danger("a peak far above the rating", {"rated to cone 11": "rated to 1170 C"}, "rated"),
    Danger("25 cm from what can burn", {"clearance 1 m": "clearance 25 cm"}, "catch fire"),
    Danger(
        "opened hot, and nothing for the hands",
        {"open at 980 C": ["cool freely to 300 C", "open at 300 C"], "hands heat gloves": ""},
        "hands",
        "raku",
    ),
]

# -- cut-offs -----------------------------------------------------------------------------------

CUT_OFFS = [
    Danger("cut off above the rating", {CUT_OFF: "cut-off at 1350 C"}, "made for|rated"),
    Danger("cut off above the rating, °F", {CUT_OFF: "cut-off at 2460 F"}, "made for|rated"),
    Danger("cut off by a cone above the rating", {CUT_OFF: "cut-off cone 13"}, "made for|rated"),
    Danger(
        "cut off above a rating in degrees",
        {CUT_OFF: "cut-off at 1300 C", "rated to cone 11": "rated to 1280 C"},
        "made for|rated",
    ),
    Danger(
        "a timer three hours past the end",
        {CUT_OFF: "cut-off backup timer 15 h 30 min"},
        "after",
        at="cut-off",
        weight="doubt",
    ),
    Danger(
        "a timer five hours past the end",
        {CUT_OFF: "cut-off backup timer 17 h 30 min"},
        "after",
        at="cut-off",
        weight="loss",
    ),
]

EVERY_DANGER = [*WATCHES, *BOTH, *GAS, *FUMES, *THINGS, *NUMBERS, *CUT_OFFS]
