"""From the text of a plan to its curve and cones: every kind of line, and what is missing."""

import datetime

import pytest

from guardcone.firing.cones import kinetics_for, law_of
from guardcone.firing.curve import Piece
from guardcone.firing.kiln import Kiln
from guardcone.language import SourceText, split_lines
from guardcone.outlook.planned import PlannedFiring, fire
from guardcone.outlook.reach import limit_of
from guardcone.outlook.written import shelf_of, top_to_bottom
from guardcone.plan import Plan, read_plan
from guardcone.values import Cone, ConeForm, ConeNumber, ConeSeries, Numbering, UnknownCone


def plan_of(text: str) -> Plan:
    return read_plan(SourceText("plan.firing", split_lines(text)))


def firing_of(*schedule: str, kiln: tuple[str, ...] = ()) -> PlannedFiring:
    lines = ['plan "test"', *(["kiln", *kiln] if kiln else []), "schedule", *schedule]
    text = "\n".join(lines).replace("kiln\n", 'kiln "Heron"\n')
    return fire(plan_of(text))


# -- the lines of a schedule ------------------------------------------------------------------


def test_climb_at_a_rate() -> None:
    """`climb 100 C/h to 620 C` from a room of 20 °C takes six hours."""
    firing = firing_of("climb 100 C/h to 620 C")

    assert firing.curve.pieces == (Piece(0, 0.0, 6.0, 20.0, 620.0),)
    assert firing.fired


def test_climb_at_a_rate_a_minute() -> None:
    """`climb 2 C/min to 620 C` is 120 °C/h."""
    assert firing_of("climb 2 C/min to 620 C").curve.end_hour == pytest.approx(5.0, abs=1e-12)


def test_climb_in_a_time() -> None:
    """`climb in 3 h to 620 C` climbs at 200 °C/h."""
    (piece,) = firing_of("climb in 3 h to 620 C").curve.pieces

    assert piece.hours == pytest.approx(3.0, abs=1e-12)
    assert piece.rate_at(300.0) == pytest.approx(200.0, abs=1e-9)


def test_climb_at_full_power() -> None:
    """With power and volume full power slows as it gets hotter; without, a usual rate is taken."""
    known = firing_of("climb full power to 620 C", kiln=("electric, 230 L, 11 kW",))
    unknown = firing_of("climb full power to 620 C")

    (piece,) = known.curve.pieces
    assert piece.asymptote is not None
    assert piece.rate_at(20.0) > piece.rate_at(620.0) > 0.0
    assert unknown.curve.end_hour == pytest.approx(600.0 / 150.0, abs=1e-12)


def test_hold() -> None:
    """`hold 90 min` keeps the temperature for an hour and a half."""
    firing = firing_of("climb 100 C/h to 620 C", "hold 90 min")

    assert firing.curve.pieces[1] == Piece(1, 6.0, 1.5, 620.0, 620.0)


@pytest.mark.parametrize("line", ["hold 1 h at 620 C", "hold at 900 C for 1 h"])
def test_hold_at_a_temperature(line: str) -> None:
    """A hold that names a temperature is held where the schedule is, whatever it names."""
    firing = firing_of("climb 100 C/h to 620 C", line)

    assert firing.curve.end == 620.0
    assert firing.curve.end_hour == 7.0


def test_cool_at_a_rate_and_in_a_time() -> None:
    """Cooling at 60 °C/h and in two hours from 620 °C both end at 500 °C after two hours."""
    by_rate = firing_of("climb 100 C/h to 620 C", "cool 60 C/h to 500 C")
    by_time = firing_of("climb 100 C/h to 620 C", "cool in 2 h to 500 C")

    assert by_rate.curve.end_hour == pytest.approx(8.0, abs=1e-12)
    assert by_time.curve.end_hour == pytest.approx(8.0, abs=1e-12)


@pytest.mark.parametrize("pace", ["freely", "crash"])
def test_cool_freely(pace: str) -> None:
    """Free cooling follows the kiln's own figure, and a crash is computed the same way."""
    own = "cools from 1000 C to 100 C in 15 h"
    firing = firing_of("climb 100 C/h to 1000 C", f"cool {pace} to 100 C", kiln=(own,))

    *_, cooled = firing.curve.pieces
    assert firing.segment_hours(firing.segments[1]) == pytest.approx((9.8, 24.8), abs=1e-9)
    assert cooled.end == 100.0


def test_cool_freely_without_an_end() -> None:
    """`cool freely` alone goes to the opening, and without one to the usual 93 °C."""
    to_opening = firing_of("climb 100 C/h to 620 C", "cool freely", "open at 120 C")
    nowhere = firing_of("climb 100 C/h to 620 C", "cool freely")

    assert to_opening.curve.end == 120.0
    assert to_opening.curve.problems == ()
    assert nowhere.curve.end == 93.0


def test_opening() -> None:
    """`open at 90 C` lets the kiln cool freely to it, as a leg after the segments."""
    firing = firing_of("climb 100 C/h to 620 C", "open at 90 C")

    assert firing.curve.opening is not None
    assert firing.curve.opening.celsius == 90.0
    assert firing.segment_of_leg(0) is firing.segments[0]
    assert firing.segment_of_leg(firing.curve.opening.leg) is None


def test_beginning() -> None:
    """`from 100 C` starts there, else the kiln's room counts, else 20 °C."""
    climb = "climb 100 C/h to 620 C"

    assert firing_of("from 100 C", climb).curve.start == 100.0
    assert firing_of(climb, kiln=("room 5 C",)).curve.start == 5.0
    assert firing_of(climb).curve.start == 20.0


def test_both_units_fire_alike() -> None:
    """A schedule in °F and its twin in °C give the same curve to 1e-9."""
    celsius = firing_of("from 20 C", "climb 60 C/h to 600 C", "hold 1 h", "cool 50 C/h to 500 C")
    fahrenheit = firing_of(
        "from 68 F", "climb 108 F/h to 1112 F", "hold 60 min", "cool 90 F/h to 932 F"
    )

    for one, other in zip(celsius.curve.pieces, fahrenheit.curve.pieces, strict=True):
        assert (one.hours, one.start, one.end) == pytest.approx(
            (other.hours, other.start, other.end), rel=1e-9
        )


# -- what is missing or faulty ----------------------------------------------------------------


def test_a_plan_without_a_schedule() -> None:
    """There is an empty curve, and it is not fired."""
    firing = fire(plan_of('plan "empty"'))

    assert firing.curve.pieces == ()
    assert (firing.complete, firing.fired) == (False, False)
    assert firing.peak == 20.0


@pytest.mark.parametrize(
    ("line", "complete"),
    [
        ("climb 60 to 900 C", False),  # no unit
        ("clmb 60 C/h to 900 C", True),  # misspelt, and taken for what was meant
        ("60 C/h to 900 C, quickly", False),  # nobody knows what it was to say
        ("hold", False),  # unfinished
        ("open at", False),
        ("from 20", False),
        ("reduce from", True),  # says nothing about temperature against time
    ],
)
def test_a_faulty_line(line: str, complete: bool) -> None:
    """A line that would shape the curve leaves the firing incomplete; a reduction line does not."""
    firing = firing_of("climb 100 C/h to 620 C", line)

    assert firing.complete is complete
    assert firing.fired is complete


def test_kiln_and_measuring() -> None:
    """Kiln, thermocouple, spread and load reach the computed firing in its own units."""
    firing = fire(
        plan_of(
            """plan "test"
            kiln "Heron"
              electric, 8 cu ft, 11000 W
              rated to 2372 F
              thermocouple type S, special
              cools from 1832 F to 212 F in 15 h
              altitude 1500 m
              spread 36 F
            load
              mass 100 lb
            schedule
              climb 100 C/h to 620 C
            """
        )
    )

    kiln = firing.kiln
    assert kiln.volume == pytest.approx(
        226.535, abs=1e-3
    )  # 1 cu ft is 28.316846592 L (NIST SP 811)
    assert kiln.power == 11.0
    assert kiln.load == pytest.approx(45.359237, abs=1e-9)  # the pound, NIST SP 811
    assert kiln.cools == pytest.approx((1000.0, 100.0, 15.0), abs=1e-9)
    assert kiln.limit == pytest.approx(1300.0, abs=1e-9)
    assert (firing.measuring.thermocouple, firing.measuring.grade) == ("S", "special")
    assert firing.measuring.top_to_bottom == pytest.approx(20.0, abs=1e-9)
    assert firing.boiling == pytest.approx(95.0, abs=0.2)


def test_spread_in_cones() -> None:
    """`spread half cone` is half the mean step of the chart, `spread 1 cone` all of it."""
    half = plan_of('plan "t"\nkiln "Heron"\nspread half cone').kiln
    whole = plan_of('plan "t"\nkiln "Heron"\nspread 1 cone').kiln

    assert top_to_bottom(half) == 10.5
    assert top_to_bottom(whole) == 21.0
    assert top_to_bottom(None) is None


def test_limit_of_a_rated_cone() -> None:
    """A kiln rated to cone 10 is taken to go where that ends at the rate of the last climb.

    The chart has large cone 10 at 1282 °C for 60 °C/h and at 1303 °C for 150 °C/h, and no more.
    """
    rates = (20, 60, 100, 150, 400)
    firings = [
        firing_of(f"climb {rate} C/h to 620 C", kiln=("rated to cone 10",)) for rate in rates
    ]
    slower, slow, between, fast, faster = (limit_of(firing) or 0.0 for firing in firings)

    assert slower == slow == pytest.approx(1282.0, abs=0.5)
    assert fast == faster == pytest.approx(1303.0, abs=1.5)
    assert slow < between < fast
    assert firings[0].kiln.limit is None


def test_clock() -> None:
    """Hours become moments where the plan says a time; none past the end of the calendar."""
    schedule = "schedule\nclimb 100 C/h to 620 C"
    known = fire(plan_of(f'plan "t"\nstarts 2026-10-03 22:30\n{schedule}'))
    undated = fire(plan_of(f'plan "t"\nstarts 22:30\n{schedule}'))
    unknown = fire(plan_of(f'plan "t"\n{schedule}'))
    last = fire(plan_of(f'plan "t"\nstarts 9999-12-31 23:00\n{schedule}'))

    assert known.clock(6.0) == datetime.datetime(2026, 10, 4, 4, 30)
    assert undated.clock(1.0) is not None
    assert unknown.clock(1.0) is None
    assert last.clock(6.0) is None


def test_last_rate() -> None:
    """The mean over the last 100 °C counts both climbs and the hold between them."""
    firing = firing_of("climb 150 C/h to 1150 C", "hold 30 min", "climb 60 C/h to 1200 C")

    # 50 °C at 150, half an hour, 50 °C at 60: 1/3 + 1/2 + 5/6 h.
    assert firing.last_rate == pytest.approx(100.0 / (1 / 3 + 1 / 2 + 5 / 6), rel=1e-9)
    assert firing_of("climb 60 C/h to 90 C").last_rate is None


# -- the law of a cone ------------------------------------------------------------------------


def cone(text: str, form: ConeForm = ConeForm.LARGE, iron_free: bool = False) -> Cone:
    return Cone(ConeNumber.read(text), ConeSeries(form, iron_free))


def test_own_laws() -> None:
    """A cone the chart publishes takes its own law."""
    for one, series in (
        (cone("6"), "large_regular"),
        (cone("022", ConeForm.SELF_SUPPORTING), "ss_regular"),
        (cone("06", iron_free=True), "large_ironfree"),
        (cone("06", ConeForm.SMALL), "small_regular"),
    ):
        law = law_of(one)
        assert law is not None
        assert (law.kinetics.series, law.kinetics.cone) == (series, str(one.number))
        assert not law.borrowed


@pytest.mark.parametrize(
    ("one", "series"),
    [
        (cone("022"), "ss_regular"),
        (cone("5½"), "ss_regular"),
        (cone("6", iron_free=True), "large_regular"),
        (cone("6", ConeForm.SELF_SUPPORTING, iron_free=True), "ss_regular"),
        (cone("022", iron_free=True), "ss_regular"),
        (cone("5½", ConeForm.SMALL), "ss_regular"),
        (cone("06", ConeForm.SMALL, iron_free=True), "small_regular"),
        (cone("6a"), "large_regular"),
    ],
    ids=str,
)
def test_borrowed_laws(one: Cone, series: str) -> None:
    """A number its series does not publish borrows from the nearest of the same chart."""
    law = law_of(one)

    assert law is not None
    assert law.borrowed
    assert law.kinetics.series == series
    assert law.kinetics.cone == str(one.number.without_letter)


def every_number() -> list[ConeNumber]:
    texts = [f"0{n}" for n in range(1, 23)] + [str(n) for n in range(1, 43)]
    texts += [f"0{n}a" for n in range(1, 16)] + [f"{n}a" for n in range(1, 11)]
    found = []
    for text in [*texts, "05½", "03½", "5½", "8B", "31½"]:
        try:
            found.append(ConeNumber.read(text))
        except UnknownCone:
            continue
    return found


@pytest.mark.parametrize("numbering", [one for one in Numbering if one is not Numbering.ORTON])
def test_other_numberings_have_no_law(numbering: Numbering) -> None:
    """No cone of Seger, SK, Staffordshire or the older chart takes a law of the current one."""
    for number in every_number():
        for form in ConeForm:
            for iron_free in (False, True):
                one = Cone(number, ConeSeries(form, iron_free, numbering))
                assert kinetics_for(one) is None


def test_no_law_beyond_the_chart() -> None:
    """The chart ends at 14; Orton 15 and above have no law and borrow none."""
    assert kinetics_for(cone("14")) is not None
    assert kinetics_for(cone("15")) is None


@pytest.mark.parametrize(
    ("series", "peak", "answered", "below"),
    [
        ("large", 1250, "large_regular", "8"),
        ("large iron-free", 1250, "large_regular", "8"),  # iron-free ends at 3
        ("large iron-free", 1000, "large_ironfree", "06"),
        ("Seger", 1250, "large_regular", "8"),  # no law of its own
        ("large", 620, "ss_regular", "021"),  # large begins at 019
        ("self-supporting", 1250, "ss_regular", "8"),
    ],
)
def test_equivalent_cone(series: str, peak: int, answered: str, below: str) -> None:
    """The equivalent cone is of the set's series, else of the next that reaches so far."""
    firing = fire(
        plan_of(f'plan "t"\nwitness "shelf"\n{series} cones\nschedule\nclimb 60 C/h to {peak} C')
    )

    assert (firing.equivalent.series, firing.equivalent.below) == (answered, below)


def test_forecast_is_kept() -> None:
    """The same cone asked twice is computed once; a cone without a law has no forecast."""
    firing = firing_of("climb 60 C/h to 1220 C")
    seger = Cone(ConeNumber.read("6"), ConeSeries(numbering=Numbering.SEGER))

    assert firing.forecast(cone("6")) is firing.forecast(cone("6"))
    assert firing.forecast(seger) is None
    assert firing.kiln == Kiln()


# -- where a witness set stands ---------------------------------------------------------------


@pytest.mark.parametrize(
    ("place", "shelf"),
    [
        ("top shelf", "top"),
        ("Top", "top"),
        ("middle of the top shelf", "anywhere"),
        ("bottom", "bottom"),
        ("on the kiln floor", "bottom"),
        ("lowest shelf", "bottom"),
        ("middle shelf", "middle"),
        ("half-way up", "middle"),
        ("second from the top", "anywhere"),
        ("under the top shelf", "anywhere"),
        ("shelf 2", "anywhere"),
        ("by the spy hole", "anywhere"),
        ("stopper side", "anywhere"),
    ],
)
def test_a_shelf_by_its_own_name(place: str, shelf: str) -> None:
    """Top, middle or bottom where the name of the set says just that; else it may be anywhere."""
    (witness,) = plan_of(f'plan "test"\nwitness "{place}"\n  target 6').witness_sets

    assert shelf_of(witness) == shelf


def test_a_set_without_a_name_may_be_anywhere() -> None:
    """`witness` alone says nothing of the place."""
    (witness,) = plan_of('plan "test"\nwitness\n  target 6').witness_sets

    assert shelf_of(witness) == "anywhere"


def test_no_cooler_cone_is_less_likely_on_any_shelf() -> None:
    """Guide, target and guard go down in this order on each shelf, whatever each is in doubt."""
    sets = '\nwitness "top"\n  guide 5\n  target 6\n  guard 7\n'
    firing = fire(plan_of(f'plan "test"{sets}schedule\n  climb 30 C/h to 1205 C'))
    for shelf in ("top", "middle", "anywhere"):
        told = [firing.forecast(cone(number), shelf) for number in ("5", "6", "7")]
        chances = [one.chance_down for one in told if one]

        assert chances == sorted(chances, reverse=True)
        assert len(chances) == 3
