"""Terminals of the plan grammar to values: each token arrives as what it means, with its place."""

import re
from collections.abc import Callable
from datetime import date, time

from attrs import frozen
from lark import Token

from guardcone.language.faults import OutOfSense
from guardcone.language.parts import Keyword, Quoted
from guardcone.span import Span, Written
from guardcone.values import (
    Angle,
    ConeNumber,
    Duration,
    Length,
    Mass,
    Misspelled,
    Power,
    Quantity,
    Rate,
    Temperature,
    UnknownCone,
    Volume,
    read_number,
    read_quantity,
)

__all__ = [
    "Amperes",
    "CalendarMonth",
    "ClockPosition",
    "Count",
    "Number",
    "RuleName",
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


class RuleName(str):
    """The name of a rule in an `accept` line."""

    __slots__ = ()


@frozen(order=True)
class CalendarMonth:
    """A month of a year, for an inspection."""

    year: int
    month: int

    def __str__(self) -> str:
        return f"{self.year:04d}-{self.month:02d}"


@frozen(order=True)
class ClockPosition:
    """Where the tip of a cone points on a clock face: 12 upright, 3 level, 6 down."""

    hour: float

    def __str__(self) -> str:
        whole = int(self.hour)
        half = "½" if self.hour % 1 else ""
        return f"{whole}{half} o'clock"


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
    Angle: (0.0, 90.0),
}
_KINDS: dict[str, type[Quantity]] = {
    "TEMPERATURE": Temperature,
    "RATE": Rate,
    "DURATION": Duration,
    "LENGTH": Length,
    "VOLUME": Volume,
    "POWER": Power,
    "MASS_AMOUNT": Mass,
    "ANGLE": Angle,
}
_MONTHS = "january february march april may june july august september october november december"


class TokenValues:
    """Turns the tokens of the line numbered `line` into written values.

    lark calls the attribute named like the terminal for each token as it shifts it; a terminal
    without a method of its own is a keyword.
    """

    def __init__(self, keywords: list[str]) -> None:
        self.line = 0
        for terminal in keywords:
            setattr(self, terminal, self._keyword(terminal))
        for terminal, kind in _KINDS.items():
            setattr(self, terminal, self._quantity(kind))

    def _span(self, token: Token) -> Span:
        start = (token.start_pos or 0) + 1
        return Span(self.line, start, start + len(token))

    def _keyword(self, terminal: str) -> Callable[[Token], Written[object]]:
        word = Keyword(terminal.lower().replace("_", "-"))
        return lambda token: Written(word, self._span(token))

    def _quantity(self, kind: type[Quantity]) -> Callable[[Token], Written[object]]:
        least, most = _SENSE[kind]

        def read(token: Token) -> Written[object]:
            span = self._span(token)
            try:
                quantity = read_quantity(kind, str(token))
            except Misspelled as error:
                raise OutOfSense("value-senseless", span, f"{error}.", "") from error
            if least <= quantity.base <= most:
                return Written(quantity, span)
            raise OutOfSense("value-senseless", span, *_nonsense(kind, str(token), quantity, least))

        return read

    def NAME(self, token: Token) -> Written[object]:  # noqa: N802 - named like its terminal
        """A name in any kind of quotes."""
        inner = re.sub(r"\s+", " ", token[1:-1]).strip()
        span = self._span(token)
        if not inner:
            raise OutOfSense(
                "text-empty", span, "Nothing stands between the quotes.", "Write the name in them."
            )
        return Written(Quoted(inner), span)

    def RULE_NAME(self, token: Token) -> Written[object]:  # noqa: N802
        """The name of a rule."""
        return Written(RuleName(token.lower()), self._span(token))

    def CONE_NUMBER(self, token: Token) -> Written[object]:  # noqa: N802
        """A cone number that some published series has."""
        span = self._span(token)
        try:
            return Written(ConeNumber.read(str(token)), span)
        except UnknownCone as error:
            sentence = str(error)
            temperature = re.fullmatch(r"[0-9]{3,4}", token) and not token.startswith("0")
            raise OutOfSense(
                "value-senseless",
                span,
                f"{sentence[0].upper()}{sentence[1:]}.",
                f"Write a cone number, or a temperature with its unit ({token} C or {token} F)."
                if temperature
                else "Write a cone number such as 06, 5½ or 10.",
            ) from error

    def COUNT(self, token: Token) -> Written[object]:  # noqa: N802
        """A whole number above zero."""
        span = self._span(token)
        count = int(token.replace("−", "-")) if len(token) < 10 else 0
        if count <= 0:
            raise OutOfSense(
                "value-senseless",
                span,
                f"{token} can't be a count here.",
                "Write how many: 1 or more.",
            )
        return Written(Count(count), span)

    def NUMBER(self, token: Token) -> Written[object]:  # noqa: N802
        """A number from 0 to 1000."""
        span = self._span(token)
        number = float(token.replace("−", "-"))
        if not 0 <= number <= 1000:
            raise OutOfSense(
                "value-senseless", span, f"{token} can't be meant here.", "Write a number above 0."
            )
        return Written(Number(number), span)

    def VOLTAGE(self, token: Token) -> Written[object]:  # noqa: N802
        """Volts."""
        return Written(Volts(read_number(token)[0]), self._span(token))

    def CURRENT(self, token: Token) -> Written[object]:  # noqa: N802
        """Amperes."""
        return Written(Amperes(read_number(token)[0]), self._span(token))

    def TIME(self, token: Token) -> Written[object]:  # noqa: N802
        """A time of day: 07:30, 7.30 pm, 7am, noon, midnight."""
        span = self._span(token)
        text = token.lower().replace(".m", "m").replace("m.", "m").replace(" ", "")
        if text in ("noon", "midnight"):
            return Written(time(12 if text == "noon" else 0), span)
        hours, _, minutes = text.rstrip("apm").replace(".", ":").partition(":")
        hour, minute = int(hours), int(minutes or 0)
        if text.endswith("m") and 1 <= hour <= 12:
            hour = hour % 12 + (12 if text.endswith("pm") else 0)
        elif text.endswith("m"):
            hour = 99
        if hour > 23 or minute > 59:
            raise OutOfSense(
                "value-senseless",
                span,
                f"{token} is no time of day.",
                "Write hours and minutes from 00:00 to 23:59.",
            )
        return Written(time(hour, minute), span)

    def DATE(self, token: Token) -> Written[object]:  # noqa: N802
        """A day: 2026-10-03, 3 October 2026, October 3, 2026."""
        year, month, day = self._calendar(token)
        span = self._span(token)
        try:
            return Written(date(year, month, day), span)
        except ValueError as error:
            raise self._no_date(token) from error

    def MONTH(self, token: Token) -> Written[object]:  # noqa: N802
        """A month: 2026-03, March 2026."""
        year, month, _ = self._calendar(token)
        if not 1 <= month <= 12:
            raise self._no_date(token)
        return Written(CalendarMonth(year, month), self._span(token))

    def _calendar(self, token: Token) -> tuple[int, int, int]:
        """Year, month and day as written; the day is 1 where there is none."""
        if token[:4].isdigit():
            year, month, *day = (int(part) for part in re.findall("[0-9]+", token))
            return year, month, day[0] if day else 1
        name = re.search("[a-zA-Z]+", token)
        named = [
            index
            for index, month_name in enumerate(_MONTHS.split(), 1)
            if name and month_name.startswith(name[0].lower())
        ]
        if len(named) != 1:
            raise self._no_date(token)
        *days, year = (int(part) for part in re.findall("[0-9]+", token))
        return year, named[0], days[0] if days else 1

    def _no_date(self, token: Token) -> OutOfSense:
        return OutOfSense(
            "value-senseless",
            self._span(token),
            f"{token} is no date.",
            "Write year-month-day, such as 2026-10-03.",
        )

    def O_CLOCK(self, token: Token) -> Written[object]:  # noqa: N802
        """The hour that the tip of a cone points to."""
        span = self._span(token)
        found = re.match(r"([0-9]+)(?::([0-9]+)|\.([0-9]+)|(½))?", token)
        assert found
        hour = float(found[1])
        hour += int(found[2]) / 60 if found[2] else float(f"0.{found[3] or 0}") + bool(found[4]) / 2
        if not (0 < hour <= 6 or hour == 12):
            raise OutOfSense(
                "value-senseless",
                span,
                f"A cone does not bend to {token}.",
                "Write from 12 o'clock (upright) by 3 o'clock (level) to 6 o'clock (tip down).",
            )
        return Written(ClockPosition(hour % 12), span)

    def THERMOCOUPLE_TYPE(self, token: Token) -> Written[object]:  # noqa: N802
        """The letter of a thermocouple type."""
        span = self._span(token)
        if token.upper() not in "KNSRBJTE":
            raise OutOfSense(
                "value-senseless",
                span,
                f"There is no thermocouple of type {token}.",
                "Kilns have type K, N, S, R or B.",
            )
        return Written(Keyword(token.upper()), span)


def _nonsense(kind: type[Quantity], text: str, quantity: Quantity, least: float) -> tuple[str, str]:
    """What to say of a quantity out of sense, and what to do."""
    if quantity.base < 0 and least >= 0:
        positive = text.lstrip("-−")
        return (
            f"A {kind.kind} can't be below nothing: {text}.",
            f"Write it without the minus: {positive}.",
        )
    size = "small" if quantity.base < least else "large"
    return f"{text} is too {size} for any firing.", f"Check the {kind.kind} and its unit."
