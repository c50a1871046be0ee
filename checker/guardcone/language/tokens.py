"""Terminals of the plan grammar to values: each token arrives as what it means, with its place."""

import re
from collections.abc import Callable
from contextlib import suppress
from datetime import date, time

from attrs import frozen

from guardcone.language.scanner import MEASURES, Keyword, Quoted
from guardcone.language.source import OutOfSense, TextFault
from guardcone.span import Span, Written
from guardcone.values import (
    Angle,
    ConeNumber,
    Duration,
    Length,
    Mass,
    Power,
    Quantity,
    Rate,
    Temperature,
    UnknownCone,
    Volume,
)
from guardcone.values.units import shortened

__all__ = [
    "THERMOCOUPLES",
    "Amperes",
    "CalendarMonth",
    "ClockPosition",
    "Count",
    "Number",
    "Phases",
    "RuleName",
    "Token",
    "TokenValues",
    "Volts",
]


class Number(float):
    """A plain number: a shade, a spread in cones."""

    __slots__ = ()


class Count(int):
    """How many pieces or shelves."""

    __slots__ = ()


class Volts(float):
    """The voltage of the supply."""

    __slots__ = ()


class Amperes(float):
    """The current of the supply."""

    __slots__ = ()


class Phases(int):
    """The phases of the supply: one or three."""

    __slots__ = ()

    def __str__(self) -> str:
        return "single phase" if self == 1 else f"{int(self)} phase"


class RuleName(str):
    """The name of a rule in an `accept` line."""

    __slots__ = ()


@frozen(order=True, repr=False)
class CalendarMonth:
    """A month of a year, for an inspection."""

    year: int
    month: int

    def __str__(self) -> str:
        return f"{self.year:04d}-{self.month:02d}"


@frozen(order=True, repr=False)
class ClockPosition:
    """Where the tip of a cone points on a clock face: 12 upright, 3 level, 6 down."""

    hour: float

    def __str__(self) -> str:
        hours, minutes = divmod(round(self.hour * 60), 60)
        past = {0: "", 30: "½"}.get(minutes, f":{minutes:02d}")
        return f"{hours or 12}{past} o'clock"


# What no plan can mean, as (least, most) in base units. The bounds are wide: they catch slips of
# the keyboard and lost units, never an unusual firing (own choice, no source).
_SENSE: dict[type[Quantity], tuple[float, float]] = {
    Temperature: (-50.0, 2000.0),
    Rate: (0.1, 60_000.0),
    Duration: (0.0, 60.0 * 24 * 31),
    Length: (0.0, 9_000_000.0),
    Volume: (0.1, 1_000_000.0),
    Power: (0.01, 100_000.0),
    Mass: (0.001, 1_000_000.0),
    Angle: (0.0, 180.0),  # a cone that is down points past the level
}
# Numbers that are no measure, and the most that each can be.
_MOST: dict[str, tuple[type[float], float]] = {
    "NUMBER": (Number, 100),
    "VOLTAGE": (Volts, 100_000),
    "CURRENT": (Amperes, 10_000),
}
_MONTHS = (
    "january february march april may june july august september october november december".split()
)
WEEKDAYS = "monday tuesday wednesday thursday friday saturday sunday".split()
# The letters of the types of thermocouple (IEC 60584-1), those of kilns first.
THERMOCOUPLES = ("K", "N", "S", "R", "B", "J", "T", "E")
# A year outside is a slip of the keys (own choice, no source).
_YEARS = (1950, 2150)
_WRITE_DATE = "Write year-month-day, such as 2026-10-03."
_CONES = "cones run from 022 up to 01, then 1 to 42"


class Token(str):
    """A piece of a line: its kind by the name in the grammar, its first column (from 0), its worth.

    Kind and worth are those of `guardcone.language.scanner.Reading`, the worth with its place.
    """

    __slots__ = ("kind", "start", "value")
    kind: str
    start: int
    value: Written[object]

    def __new__(cls, kind: str, text: str, start: int = 0) -> "Token":
        token = super().__new__(cls, text)
        token.kind, token.start = kind, start
        return token


class TokenValues:
    """Turns the tokens of the line numbered `line` into written values.

    A kind of value that needs more than the scanner says of it has a method under its name.
    """

    def __init__(self) -> None:
        self.line = 0
        # Where the line was mended before it was read: the column, and how many letters the mended
        # word and the written one have. Places are always those of the line as it was written.
        self.mended: tuple[int, int, int] | None = None

    def written(self, token: Token, value: object) -> Written[object]:
        """The value of a token, which the scanner has read as `value`, with its place.

        Raises OutOfSense for what no plan can mean.
        """
        if token.kind in MEASURES:
            value = self._quantity(token, value)
        elif token.kind in _MOST:
            value = self._number(token, value)
        else:
            further: Callable[[Token], object] | None = getattr(self, token.kind, None)
            value = further(token) if further else value
        return Written(value, self._span(token))

    def _senseless(
        self, token: Token, found: str, repair: str, rule: str = "value-senseless"
    ) -> OutOfSense:
        return OutOfSense(TextFault(rule, self._span(token), found, repair))

    def _span(self, token: Token) -> Span:
        start, end = token.start, token.start + len(token)
        if self.mended:
            at, right, written = self.mended
            longer = written - right
            # What stands within the mended words stands for all of the written ones.
            start = start + longer if start >= at + right else min(start, at)
            end = end if end <= at else max(end, at + right) + longer
        return Span(self.line, start + 1, end + 1)

    def _quantity(self, token: Token, quantity: object) -> Quantity:
        kind = MEASURES[token.kind]
        least, most = _SENSE[kind]
        if not isinstance(quantity, kind):
            raise self._unreadable(token, kind.kind)
        if kind is Temperature and re.match(r"[0-9]\.[0-9]{3}(?![0-9])", token):
            found = f"`{token}` reads as a little over nothing; a point may part thousands here."
            raise self._senseless(token, found, f"Write `{token.replace('.', '', 1)}`.")
        if least <= quantity.base <= most:
            return quantity
        raise self._senseless(token, *_nonsense(kind, str(token), quantity, least))

    def _number(self, token: Token, number: object) -> float:
        """A number above 0, and for what it counts not too large."""
        kind, most = _MOST[token.kind]
        if not isinstance(number, float):
            raise self._unreadable(token, token.kind.lower())
        if 0 < number <= most:
            return kind(number)
        size = "large" if number > 0 else "small"
        found = f"`{shortened(token)}` is too {size} to be meant."
        raise self._senseless(token, found, f"Check the {token.kind.lower()}.")

    def _unreadable(self, token: Token, what: str) -> OutOfSense:
        found = f"`{shortened(token)}` is no {what} that can be read."
        return self._senseless(token, found, "Check the number and its unit.")

    def NAME(self, token: Token) -> Quoted:  # noqa: N802 - named like its terminal
        """A name in any kind of quotes."""
        inner = re.sub(r"\s+", " ", token[1:-1]).strip()
        if not inner:
            found, repair = "Nothing stands between the quotes.", "Write the name in them."
            raise self._senseless(token, found, repair, "text-empty")
        return Quoted(inner)

    def RULE_NAME(self, token: Token) -> RuleName:  # noqa: N802
        """The name of a rule."""
        return RuleName(token.lower())

    def CONE_NUMBER(self, token: Token) -> ConeNumber:  # noqa: N802
        """A cone number that some published series has."""
        try:
            return ConeNumber.read(str(token))
        except UnknownCone as error:
            found, _, reason = str(error).partition(": ")
            if not found.startswith("there is"):
                found, reason = f"there is no cone {shortened(token)}", _CONES
            repair = f"{reason[0].upper()}{reason[1:]}."
            if re.fullmatch(r"[1-9][0-9]{2,3}", token):
                repair = f"Write a cone number, or for a temperature `{token} C` or `{token} F`."
            raise self._senseless(token, f"T{found[1:]}.", repair) from error

    def COUNT(self, token: Token) -> Count:  # noqa: N802
        """A whole number above zero."""
        figures = token.lstrip("xX× ").replace("−", "-")
        count = int(figures) if len(figures) < 10 else 0
        if not 0 < count <= 100_000:
            found = f"`{shortened(token)}` can't be a count here."
            raise self._senseless(token, found, "Write how many there are.")
        return Count(count)

    def PHASES(self, token: Token) -> Phases:  # noqa: N802
        """One or three phases, in a figure or a word."""
        return Phases(3 if token[0] in "3tT" else 1)

    def TIME(self, token: Token) -> time:  # noqa: N802
        """A time of day: 07:30, 7.30 pm, 7am, noon, midnight."""
        text = re.sub(r"\s|(?<=[apm])\.", "", token.lower())
        if text in ("noon", "midnight"):
            return time(12 if text == "noon" else 0)
        hours, _, minutes = text.rstrip("apm").replace(".", ":").partition(":")
        hour, minute = int(hours), int(minutes or 0)
        if text.endswith("m") and 1 <= hour <= 12:
            hour = hour % 12 + (12 if text.endswith("pm") else 0)
        elif text.endswith("m"):
            hour = 99
        if hour > 23 or minute > 59:
            found = f"`{token}` is no time of day."
            raise self._senseless(token, found, "Write hours and minutes, from 00:00 to 23:59.")
        return time(hour, minute)

    def WEEKDAY(self, token: Token) -> Keyword:  # noqa: N802
        """A day of the week, under its full name."""
        return Keyword(next(day for day in WEEKDAYS if day.startswith(token[:3].lower())))

    def DATE(self, token: Token) -> date:  # noqa: N802
        """A day: 2026-10-03, 3 October 2026, October 3, 2026."""
        if re.match(r"[0-9]{1,2}[/.][0-9]", token):
            meant = [f"`{one}`" for one in _either_way(token)]
            if not meant:
                raise self._no_date(token)
            found = "may mean day and month, or month and day"
            found = found if len(meant) > 1 else "is not how a plan writes a day"
            raise self._senseless(token, f"`{token}` {found}.", f"Write {' or '.join(meant)}.")
        try:
            return date(*self._calendar(token))
        except ValueError as error:
            raise self._no_date(token) from error

    def MONTH(self, token: Token) -> CalendarMonth:  # noqa: N802
        """A month: 2026-03, March 2026."""
        year, month, _ = self._calendar(token)
        if not 1 <= month <= 12:
            raise self._no_date(token)
        return CalendarMonth(year, month)

    def _calendar(self, token: Token) -> tuple[int, int, int]:
        """Year, month and day as written; the day is 1 where there is none."""
        numbers = [int(part) for part in re.findall("[0-9]+", token)]
        if len(re.match("[0-9]*", token)[0]) == 4:  # type: ignore[index]
            year, month, day = (*numbers, 1)[:3]
        else:
            written = re.search(r"[a-z]{3,9}", re.sub(r"(?<=[0-9])[a-z]+", "", token.lower()))
            name = written[0] if written else "?"
            if name == "sept":
                name = "sep"
            named = [n for n, full in enumerate(_MONTHS, 1) if full.startswith(name)]
            if len(named) != 1:
                raise self._no_date(token)
            year, month, day = numbers[-1], named[0], numbers[0] if len(numbers) > 1 else 1
        if not _YEARS[0] <= year <= _YEARS[1]:
            raise self._no_date(token)
        return year, month, day

    def _no_date(self, token: Token) -> OutOfSense:
        if len(re.findall("[0-9]+", token)) + len(re.findall("[A-Za-z]{3,}", token)) < 3:
            found = f"`{token}` is no month of the calendar."
            return self._senseless(token, found, "Write year-month, such as 2026-03.")
        return self._senseless(token, f"`{token}` is no date of the calendar.", _WRITE_DATE)

    def O_CLOCK(self, token: Token) -> ClockPosition:  # noqa: N802
        """The hour that the tip of a cone points to."""
        found = re.match(r"([0-9]+)(?::([0-9]+)|\.([0-9]+)|\s?(½))?", token)
        assert found
        hour = float(found[1])
        hour += int(found[2]) / 60 if found[2] else float(f"0.{found[3] or 0}") + bool(found[4]) / 2
        if not (0 < hour <= 6 or 12 <= hour < 13):
            raise self._senseless(
                token,
                f"No cone bends to `{shortened(token)}`.",
                "Write from 12 o'clock (upright) by 3 o'clock (level) to 6 o'clock (tip down).",
            )
        return ClockPosition(hour % 12)

    def DASH(self, token: Token) -> Keyword:  # noqa: N802, ARG002
        """A dash of any sort."""
        return Keyword("dash")

    def THERMOCOUPLE_TYPE(self, token: Token) -> Keyword:  # noqa: N802
        """The letter of a thermocouple type."""
        if token.upper() not in THERMOCOUPLES:
            found = f"There is no thermocouple of type `{token}`."
            raise self._senseless(token, found, "Kilns have type K, N, S, R or B.")
        return Keyword(token.upper())


def _nonsense(kind: type[Quantity], text: str, quantity: Quantity, least: float) -> tuple[str, str]:
    """What to say of a quantity out of sense, and what to do."""
    written = shortened(text)
    if quantity.base < 0 <= least:
        positive = written.lstrip("-−")
        return f"A {kind.kind} can't be below nothing: `{written}`.", f"Write `{positive}`."
    size = "small" if quantity.base < least else "large"
    return f"`{written}` is too {size} for any firing.", f"Check the {kind.kind} and its unit."


def _either_way(written: str) -> list[date]:
    """The days that 7/11/26 may mean, as far as they are in the calendar; 26 is 2026."""
    first, second, *years = map(int, re.findall("[0-9]+", written))
    year = years[0] + (2000 if years[0] < 100 else 0) if years else 0
    found = []
    for month, day in ((second, first), (first, second)):
        with suppress(ValueError):
            found.append(date(year, month, day))
    return sorted(set(found))
