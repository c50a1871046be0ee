"""What potters write of schedule, safety and reading: every spelling beside its value."""
# ruff: noqa: E501 - the tables of spellings read best with a meaning and its spellings side by side

from datetime import date, time

import pytest
from spellings import assert_fields, read, spelled

from guardcone.facts.reading import clock_hour
from guardcone.language.tokens import CalendarMonth
from guardcone.plan.schedule import Segment
from guardcone.values import ConeForm

# -- schedule ----------------------------------------------------------------------------------

SEGMENTS = {
    "kind=climb pace=rate rate=60 to=95":
        "climb 60 C/h to 95 C | climb 60 °C/h to 95 °C | climb at 60 C per hour to 95 C |"
        "climb 60°C/hr to 95°C | climb 60 C/h up to 95 C | climb to 95 C at 60 C/h |"
        "climb 60 degrees C an hour to 95 degrees Celsius | climb 60 C / h to 95 C |"
        "climb: 60 C/h to 95 C | ramp 60 C/h to 95 C | heat at 60 C/h until 95 C | raise 60 C/h to 95 C |"
        "climb 60 C/h -> 95 C | climb 60 C/h → 95 C | climb 1 C/min to 95 C | CLIMB 60 c/H TO 95 c |"
        "climb 108 F/h to 203 F | climb 108 °F per hour to 203 °F | climb 60 ℃/h to 95 ℃ |"
        "climb 1 degree C a minute to 95 C | climb\t60\u00a0°C/h to\u200995\u202f°C | climb 60 C/h to 95 C.",
    "kind=climb pace=rate rate=150 to=1240": "climb 150 C/h to 1,240 C | climb 150C/h to 1240C |"
        "climb 2.5 C/min to 1240 C | climb 2½ C per minute to 1240.0 C | climb 270 F/h to 2264 F",
    "kind=climb pace=duration duration=5 h to=600":
        "ramp to 600 C in 5 h | ramp to 600 C over 5 hours | ramp in 5 h to 600 C | climb to 600 C in 300 min |"
        "climb over 5:00 to 600 C",
    "kind=climb pace=full-power to=1000": "climb full power to 1000 C | climb at full power to 1000 C |"
        "climb to 1000 C at full power | full power to 1000 C | full on to 1000 C | climb flat out to 1000 C | climb as fast as possible to 1000 C",
    "kind=hold duration=2 h": "hold 2 h | hold for 2 hours | hold 2h | hold: 2 hrs | soak 2 h | dwell 120 min |"
        "candle 2 h | hold 2:00 | hold for 2 Hours.",
    "kind=hold duration=2 h 30 min": "hold 2h30 | hold 2 h 30 min | hold 2 hours 30 minutes | hold 2.5 h |"
        "hold 2½ h | hold 2 1/2 hours | hold 150 min | hold 2:30 | hold 2 hours and 30 minutes | hold 2 hr, 30 min",
    "kind=hold duration=10 min": "hold 10 min | soak 10 mins | dwell 10m | hold 0:10 | hold 10 minutes",
    "kind=hold duration=30 min": "hold half an hour | hold ½ h | hold 1/2 hour | hold .5 h | hold 30 min",
    "kind=hold duration=10 min to=1252": "hold 10 min at 1252 C | hold at 1252 C for 10 min |"
        "hold 1252 C for 10 min | hold 1252 C 10 min | soak at 1,252 °C for 10 minutes |"
        "warm at 1252 C for 10 min | keep at 1252 C for ten minutes",
    "kind=cool pace=rate rate=150 to=1000": "cool 150 C/h to 1000 C | cool at 150 C/h to 1000 C |"
        "cool down at 150 C/h to 1000 C | fire down 150 C/h to 1000 C | down fire at 150 C/h to 1000 C |"
       " cool to 1000 C at 150 C/h | cool 150 C/h down to 1000 C",
    "kind=cool pace=freely to=90": "cool freely to 90 C | cool naturally to 90 C | cool to 90 C freely |"
        "cool free to 90 C | cool down naturally to 90 C | cool by itself to 90 C | cool freely until 90 C",
    "kind=cool pace=freely": "cool freely | cool naturally",
    "kind=cool pace=crash to=1000": "cool crash to 1000 C | crash cool to 1000 C | crash-cool to 1000 C |"
        "crash to 1000 C | cool to 1000 C crash",
    "kind=cool pace=duration duration=12 h to=90": "cool to 90 C in 12 h | cool in 12 h to 90 C",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(SEGMENTS))
def test_a_segment(line: str, meaning: str) -> None:
    """Climbs, holds and cooling in every order and unit; °F rates convert without the 32."""
    schedule = read("schedule", line).schedule
    assert schedule is not None
    (segment,) = schedule.segments
    assert_fields(segment, meaning)


STEPS = [
    ("60 C/h to 95 C", ["climb 60 C/h to 95 C"]),
    ("60C/h 95C 2h", ["climb 60 C/h to 95 C", "hold 2 h"]),
    ("from 20 C | 60 C/h, 95 C, 30 min | 150 C/h, 1240 C | 100 C/h, 900 C, soak for 1 h",
     ["climb 60 C/h to 95 C", "hold 30 min", "climb 150 C/h to 1240 C", "cool 100 C/h to 900 C", "hold 1 h"]),
    ("go to 95 C at 60 C/h | go to 1240 C at 150 C/h, hold 10 min | take to 900 C at 100 C/h",
     ["climb 60 C/h to 95 C", "climb 150 C/h to 1240 C", "hold 10 min", "cool 100 C/h to 900 C"]),
    ("108 F/h to 203 F hold 10 min", ["climb 108 F/h to 203 F", "hold 10 min"]),
    ("climb 150 C/h to 1240 C | 80 C/h to 1000 C", ["climb 150 C/h to 1240 C", "cool 80 C/h to 1000 C"]),
]  # fmt: skip


@pytest.mark.parametrize(("lines", "meant"), STEPS)
def test_a_line_of_a_table(lines: str, meant: list[str]) -> None:
    """Rate, end and hold: a climb where it ends hotter than the line above, a cooling where cooler."""
    schedule = read("schedule", lines.replace(" | ", "\n  ")).schedule
    plainly = read("schedule", "\n  ".join(meant)).schedule
    assert schedule is not None
    assert plainly is not None

    def said(segments: tuple[Segment, ...]) -> list[tuple[object, ...]]:
        return [
            (
                one.number,
                one.kind,
                *(part and part.value for part in (one.pace, one.rate, one.duration, one.to)),
            )
            for one in segments
        ]

    assert said(schedule.segments) == said(plainly.segments)


SCHEDULES = {
    "opens=90": "open at 90 C | open below 90 C | open 90 C | open when below 90 C | unload at 90 C |"
    "open at or below 90 C | open at 194 F |"
    "crack the lid at 90 C | open the kiln at 90 C | lid up at 90 C",
    "begins=20": "from 20 C | start at 20 C | starts at 20 C | start 68 F",
}


@pytest.mark.parametrize(("line", "meaning"), spelled(SCHEDULES))
def test_where_the_schedule_begins_and_ends(line: str, meaning: str) -> None:
    """The temperature of the start, and that of the opening."""
    assert_fields(read("schedule", line).schedule, meaning)


REDUCTIONS = {
    "start=900": "reduce from 900 C | reduction from 900 C | body reduction at 900 C | reduce at 900 C",
    "start=900 end=1200": "reduce from 900 C to 1200 C | reduce 900 C to 1200 C",
}


@pytest.mark.parametrize(("line", "meaning"), spelled(REDUCTIONS))
def test_reduction(line: str, meaning: str) -> None:
    """From where, and to where."""
    schedule = read("schedule", line).schedule
    assert schedule is not None
    assert_fields(schedule.reductions[0], meaning)


# -- safety ------------------------------------------------------------------------------------

VENTS = {
    "switched=on throughout=throughout": "vent on throughout | vent on, throughout | vent: on all the time |"
    "vent on the whole firing | vent on from start to end | kiln vent on whole time | extraction on throughout | vent on always",
    "throughout=throughout kind=downdraft": "vent downdraft throughout | vent down-draught, throughout",
    "switched=on until=600": "vent on until 600 C | vent on till 600 °C | vent on until 1112 F",
    "switched=on during=firing+cooling": "vent on during firing and cooling | vent on, firing, cooling |"
    "vent on during firing, during cooling",
    "switched=on starts=20 to_end=end": "vent on from 20 C to end" ,
    "switched=off": "vent off",
    "switched=no": "vent none",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(VENTS))
def test_the_vent(line: str, meaning: str) -> None:
    """On or off, when, and of what kind."""
    safety = read("safety", line).safety
    assert safety is not None
    assert_fields(safety.vent, meaning)


WATCHES = {
    "A 15:00 end": 'watch "A" from 15:00 to end | watch: "A" from 3 pm until end | watch "A" 15:00-end |'
    'watch by "A" from 15.00 to the end | watched by "A" 15:00 to end | watch from 15:00 to end by "A"',
    "A 15:00 18:00": 'watch "A" 15:00-18:00 | watch "A" 15:00 – 18:00 | watch “A” from 3pm to 6pm |'
    'watch "A" from 15:00 – 18:00',
    "A 22:00 02:00": 'watch "A" from 22:00 to 02:00',
    "A 15:00 18:00, B 18:00 end": 'watch "A" from 15:00 to 18:00, "B" from 18:00 to end |'
    'watch "A" 15:00-18:00 and "B" 18:00-end | watch 15:00 to 18:00 by "A", 18:00 to end by "B" |'
    'watch by "A" from 15:00 to 18:00, by "B" from 18:00 to end',
    "A 06:00 08:00, A 15:00 18:00": 'watch "A" from 06:00 to 08:00 and from 15:00 to 18:00',
    "A start end": 'watch "A" from start to end',
    "A guide end": 'watch "A" from guide to end',
    "A throughout": 'watch "A" throughout',
    "nobody": "watch nobody | watch none",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(WATCHES))
def test_the_watches(line: str, meaning: str) -> None:
    """Who watches, from when to when; a name holds until the next one."""
    safety = read("safety", line).safety
    assert safety is not None

    def short(watch: object) -> str:
        fields = ["who", "nobody", "throughout", "from_time", "from_word", "to_time", "to_end"]
        found = [getattr(watch, name) for name in fields]
        return " ".join(
            f"{one.value:%H:%M}" if isinstance(one.value, time) else str(one.value)
            for one in found
            if one
        )

    assert ", ".join(map(short, safety.watches)) == meaning


CUT_OFFS = {
    "backup=backup timer=15 h": "cut-off backup timer 15 h | cut off: backup timer at 15 h |"
    "shut-off back-up timer 15 hours",
    "timer=15 h": "cut off timer 15 h | cutoff timer 15:00" ,
    "timer=15 h temperature=1270": "cut-off timer 15 h and limit 1270 C | cut-off timer 15 h, 1270 C",
    "temperature=1270": "cut-off at 1270 C | cut-off limit 1270 °C | cutoff 1270 C | cut-off 2318 F",
    "cone=cone 10": "cut-off small cone 10 | cut-off cone 10",
    "controller=controller": "cut-off controller",
    "words=by hand": 'cut-off "by hand"',
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(CUT_OFFS))
def test_the_cut_off(line: str, meaning: str) -> None:
    """Timer, limit, cone or controller, and more than one of them."""
    safety = read("safety", line).safety
    assert safety is not None
    assert_fields(safety.cut_off, meaning)


def test_the_cut_off_cone_is_small() -> None:
    """A small cone in a shut-off device is another cone than the large one of that number."""
    safety = read("safety", "cut-off small cone 10").safety
    assert safety is not None
    assert safety.cut_off is not None
    assert safety.cut_off.cone is not None
    assert safety.cut_off.cone.value.series.form is ConeForm.SMALL


SAFETIES = {
    "clearance=500": "clearance 50 cm | clearance: 500 mm | clearance 50 cm all round |"
    "clearance 0.5 m on all sides",
    "clearance=457.2": 'clearance 18 in | clearance 18" | clearance 1.5 ft | clearance 18 inches',
    "hands=gloves": "hands heat gloves | gloves | hands: heat-resistant gloves | kiln gloves |"
    "leather gauntlets",
    "local_code=checked": 'local code "checked" | local code: "checked" | local codes “checked”',
    "co_alarm=fitted": "CO alarm fitted | CO detector fitted | carbon monoxide alarm fitted",
    "co_alarm=unsaid": "CO alarm | CO detector",
    "co_alarm=no": "no CO alarm | CO alarm none",
    "extinguisher=CO2": 'extinguisher "CO2" | fire extinguisher "CO2" | extinguisher: "CO2"',
    "extinguisher=fitted": "extinguisher fitted | fire extinguisher: yes",
    "bystanders=kept-out": "bystanders kept out | children and animals kept away | children kept out",
    "emergency=the duty phone": 'call "the duty phone" | emergency "the duty phone"',
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(SAFETIES))
def test_the_rest_of_safety(line: str, meaning: str) -> None:
    """Clearance, gloves, alarms and the local code."""
    assert_fields(read("safety", line).safety, meaning)


@pytest.mark.parametrize(
    ("line", "least", "most"),
    [
        ("eyes shade 4", 4, 4),
        ("eyes: shade 3-5 glasses", 3, 5),
        ("eyes shade 3 to 5", 3, 5),
        ("eye protection shade 3–5", 3, 5),
    ],
)
def test_the_shade(line: str, least: float, most: float) -> None:
    """One shade or a range of them."""
    safety = read("safety", line).safety
    assert safety is not None
    assert safety.eyes is not None
    assert safety.eyes.least is not None
    assert safety.eyes.most is not None
    assert (safety.eyes.least.value, safety.eyes.most.value) == (least, most)


@pytest.mark.parametrize(
    ("line", "when"),
    [
        ("electrics inspected 2026-03 by a licensed electrician", CalendarMonth(2026, 3)),
        ("electrics inspected in March 2026 by an electrician", CalendarMonth(2026, 3)),
        ("wiring checked Mar. 2026 by electrician", CalendarMonth(2026, 3)),
        ("electrics: inspected on 12 March 2026 by licensed electrician", date(2026, 3, 12)),
        ("electrics tested 2026-03-12 by the licensed electrician", date(2026, 3, 12)),
    ],
)
def test_the_inspection(line: str, when: object) -> None:
    """The day or the month, and by whom."""
    safety = read("safety", line).safety
    assert safety is not None
    assert safety.electrics is not None
    assert safety.electrics.when is not None
    assert safety.electrics.when.value == when
    assert safety.electrics.by_electrician is not None


# -- reading -----------------------------------------------------------------------------------

POSITIONS = {
    "6.00": "guide down | guide: down | guide flat | guide fully down | guide touching | guide 6 o'clock",
    "0.00": "guide standing | guide upright | guide unmoved | guide not moved | guide 12 o'clock |"
    "guide still standing",
    "5.00": "guide 5 o'clock | guide 5 o’clock | guide 5 oclock | guide at 5 o'clock | guide 75°",
    "5.50": "guide 5:30 o'clock | guide 5½ o'clock | guide 5.5 o'clock",
    "3.00": "guide 3 o'clock | guide 45 degrees | guide 45°",
    "None": "guide moved | guide just moving | guide bent",
    "7.00": "guide melted",
}  # fmt: skip


@pytest.mark.parametrize(("line", "meaning"), spelled(POSITIONS))
def test_a_position(line: str, meaning: str) -> None:
    """How a cone stands, on the clock face: 12 upright, 3 level, 6 down, past it melted."""
    guide = read("reading", line).readings[0].guide
    assert guide is not None
    hour = clock_hour(guide)
    assert (f"{hour:.2f}" if hour is not None else "None") == meaning
