"""Numbers and sentences of a forecast are put in the plan's own unit."""

import re
from collections.abc import Mapping
from datetime import datetime, timedelta

from attrs import frozen

from guardcone.firing.tables import column
from guardcone.outlook.records import Moment, Remark, Slot
from guardcone.values import Cone, Duration, Quantity, Rate, Temperature, TemperatureDifference
from guardcone.values.units import to_places, to_whole

__all__ = ["Units", "date_of", "source_of", "text_of"]

# Not those of the machine's language.
_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

_GAPS = re.compile(r"(\d+) to (\d+) °C")


def text_of(name: str) -> str:
    """A sentence of rules/tables/forecast_words.csv with its slots still open; else KeyError."""
    return column("forecast_words", "text")[name]


def source_of(name: str) -> str:
    """Where what a sentence says comes from; "" where it needs no source."""
    return column("forecast_words", "source")[name]


@frozen(repr=False)
class Units:
    """Writes temperatures, rates and times for people; `letter` is "C" or "F".

    Degrees, degrees an hour and minutes are whole ones; `fine` keeps a decimal of those that are
    few. `dates` are told where a plan has them, else days are counted; times are by the clock where
    a plan has one, else, or with `from_start`, counted from the start.
    """

    letter: str
    fine: bool = False
    dates: bool = True
    from_start: bool = False

    @property
    def degree(self) -> str:
        """`°C` or `°F`."""
        return f"°{self.letter}"

    def temperature(self, celsius: float, places: int = 0) -> str:
        """`1252 °C`; with places, those that are not zero: `1243.4 °C`."""
        return f"{self.bare(celsius, places)} {self.degree}"

    def bare(self, celsius: float, places: int = 0) -> str:
        """The number of `temperature` alone."""
        return to_places(Temperature.of(celsius, "C").amount(self.letter), places)

    def difference(self, celsius: float) -> str:
        """`17 °C`, `under 1 °C`; fine `3.4 °C`: degrees between two temperatures."""
        amount = TemperatureDifference.of(celsius, "C").amount(self.letter)
        if not self.fine and 0.0 < abs(amount) < 0.5:
            return f"under 1 {self.degree}"
        return f"{to_places(amount, 1 if self.fine and abs(amount) < 9.95 else 0)} {self.degree}"

    def rate(self, celsius_per_hour: float, *, exact: bool = False) -> str:
        """`60 °C/h`; exact, to the tenth where it is written so, `33.3 °C/h`."""
        return f"{self.bare_rate(celsius_per_hour, exact=exact)} {self.degree}/h"

    def bare_rate(self, celsius_per_hour: float, *, exact: bool = False) -> str:
        """The number of `rate` alone."""
        amount = Rate.of(celsius_per_hour, "C/h").amount(f"{self.letter}/h")
        if exact:
            return to_whole(amount)
        if self.fine and abs(amount) < 19.95:
            return to_places(amount, 1)
        return "under 1" if 0.0 < abs(amount) < 0.5 else to_places(amount, 0)

    def duration(self, hours: float) -> str:
        """`2 h 30 min`, seconds where they are whole; fine under ten minutes one decimal."""
        minutes = 60.0 * hours
        if 0.0 < minutes < 1.0 and not self.fine and abs(60 * minutes - round(60 * minutes)) > 1e-6:
            return "under 1 min"
        if 1.0 <= minutes < 9.95:
            return f"{to_places(minutes, 1 if self.fine else 0)} min"
        return str(Duration.of(hours, "h"))

    def gaps_in(self, text: str) -> str:
        """A published text whose "5 to 37 °C" are degrees between two cones."""

        def converted(found: re.Match[str]) -> str:
            low, high = (self.difference(float(found[group])) for group in (1, 2))
            return f"{low.removesuffix(self.degree).rstrip()} to {high}"

        return _GAPS.sub(converted, text)

    def clock(self, moment: Moment) -> tuple[int, str]:
        """The day of the firing and the time, `(2, "14:43")`; without a clock `(0, "31 h 13")`."""
        clock = _minute(moment.clock)
        if self.from_start or clock is None or moment.clock is None or moment.day is None:
            return 0, _elapsed(moment.hour)
        # What rounds to midnight is the next day's.
        return moment.day + (clock.date() - moment.clock.date()).days, f"{clock:%H:%M}"

    def minutes(self, moment: Moment) -> int:
        """Whole minutes of what `clock` tells, for the difference of two moments."""
        clock = _minute(moment.clock)
        day, _ = self.clock(moment)
        if clock is None or not day:
            return round(60 * moment.hour)
        return 1440 * day + 60 * clock.hour + clock.minute

    def when(self, moment: Moment) -> str:
        """`20:38` on the first day, later `Sun 4 Oct 14:43`; without a clock `31 h 13`."""
        day, time = self.clock(moment)
        return time if day < 2 else f"{self.day(moment)} {time}"

    def day(self, moment: Moment) -> str:
        """`Sun 4 Oct`, `day 2`; "" where the plan says no time of day."""
        day, _ = self.clock(moment)
        clock = _minute(moment.clock)
        if clock is None or not day:
            return ""
        return _day_of(clock) if moment.dated and self.dates else f"day {day}"

    def span(self, first: Moment, last: Moment) -> str:
        """`19:08 to 19:57`, with the day of the last where it is another."""
        alike = self.clock(first)[0] == self.clock(last)[0]
        return f"{self.when(first)} to {self.clock(last)[1] if alike else self.when(last)}"

    def slot(self, value: Slot) -> str:
        """A value inside a sentence."""
        if isinstance(value, Temperature):
            return self.temperature(value.celsius)
        if isinstance(value, TemperatureDifference):
            return self.difference(value.celsius)
        if isinstance(value, Rate):
            return self.rate(value.celsius_per_hour)
        if isinstance(value, Quantity | Cone):
            return str(value)
        if isinstance(value, float):
            return f"{value:.6g}"
        return value

    def sentence(self, name: str, slots: Mapping[str, Slot] | None = None) -> str:
        """A sentence of the table with its slots filled in."""
        filled = {slot: self.slot(value) for slot, value in (slots or {}).items()}
        return text_of(name).format_map(filled)

    def remark(self, remark: Remark) -> str:
        """What a remark says, with its line of the plan in front where it has one."""
        text = self.sentence(remark.name, remark.slots)
        return f"Line {remark.line}: {text}" if remark.line else text


def date_of(clock: datetime) -> str:
    """`Sat 3 Oct 2026`."""
    return f"{_day_of(clock)} {clock.year}"


def _day_of(clock: datetime) -> str:
    return f"{_DAYS[clock.weekday()]} {clock.day} {_MONTHS[clock.month - 1]}"


def _elapsed(hour: float) -> str:
    hours, minutes = divmod(round(hour * 60.0), 60)
    return f"{hours} h {minutes:02d}"


def _minute(clock: datetime | None) -> datetime | None:
    """To the nearest minute, as a clock shows it."""
    if clock is None:
        return None
    try:
        return (clock + timedelta(seconds=30)).replace(second=0, microsecond=0)
    except OverflowError:
        return clock
