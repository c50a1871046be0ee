"""Fills in a started plan as a sensible person would who has looked at an electric kiln."""

# What is written for each line that is open, by how the line begins.
ANSWERS = {
    'plan "': 'plan "Monday class"',
    "by": 'by "duty potter"',
    "starts": "starts 2026-10-05 07:00",
    'kiln "': 'kiln "Heron"',
    '"fill in what heats it': "electric, front door, 230 L, 11 kW",
    "rated": "rated to 1400 C",
    "thermocouple": "thermocouple type S",
    'shelves "fill in how many': "shelves 2",
    'shelves "fill in washed': "shelves washed",
    "cools": "cools from 1000 C to 100 C in 15 h",
    "spread": "spread 15 C",
    "lean": "lean 8 degrees, facing one way, staggered",
    "facing": "facing one way, staggered",
    "pad": "pad pricked, dry",
    "seen": "seen through the lower spy hole",
    "elements": "elements 60 mm away",
    "clay": 'clay "Marsh buff" matures {clay}',
    "glaze": 'glaze "Reed ash" matures {glaze}, stiff',
    "ware": 'ware "mugs" 24 of "Marsh buff" {ware}, wall 6 mm',
    "spacing": "spacing 10 mm",
    "vent": "vent downdraft, on throughout",
    "clearance": "clearance 1 m",
    "eyes": "eyes shade 5",
    "hands": "hands heat gloves",
    "watch": 'watch "duty potter" throughout',
    "cut-off": 'cut-off backup "over-temperature device with its own sensor"',
    "electrics": "electrics inspected 2026-03 by a licensed electrician",
    "local code": 'local code "checked with the county fire office"',
    "extinguisher": 'extinguisher "CO2, outside the kiln room"',
    "call": 'call "the number on the kiln-room door, then the studio manager"',
    "bystanders": "bystanders kept out",
    "power off": "power off before unloading",
    "dust": 'dust "respirator for kiln wash"',
}
# The lines that are taken away: an electric kiln has none of these.
AWAY = ("gas line", "CO alarm", "flame safety", "combustion air", "gas off")
WARES = {
    "bisque": "unglazed, bone-dry",
    "candling": "unglazed, leather-hard",
    "once": 'with "Reed ash", bone-dry, foot wiped 6 mm',
    "overglaze": 'with "Reed ash", glazed, refired, foot wiped 6 mm',
}


def filled_in(text: str, kind: str, clay: str, glaze: str) -> str:
    """The plan without a place to fill in; `clay` and `glaze` are what is said of theirs."""
    ware = WARES.get(kind, 'with "Reed ash", bisque, foot wiped 6 mm')
    lines = []
    for line in text.splitlines():
        code = " ".join(line.split())
        if code.startswith("#") or '"fill in' not in code:
            lines.append(line)
        elif not code.startswith(AWAY):
            answer = ANSWERS[max(filter(code.startswith, ANSWERS), key=len)]
            lines.append(answer.format(clay=clay, glaze=glaze, ware=ware))
    return "\n".join(lines) + "\n"
