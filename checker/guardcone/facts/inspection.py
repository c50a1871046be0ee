"""What heats the kiln, who inspected what feeds it, and who looked at what is fitted."""

from collections.abc import Callable
from datetime import date, timedelta
from typing import Any

from guardcone.condition.kinds import DATE, DURATION, FLAG, TEXT
from guardcone.condition.typed import without_place
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of, PlanSubject, is_electric
from guardcone.facts.plan import is_reduced
from guardcone.facts.safety import SAFETY
from guardcone.language.grammar import words_of
from guardcone.language.meanings import names_nobody, pattern_for
from guardcone.language.tokens import CalendarMonth
from guardcone.plan.plan import Plan
from guardcone.plan.safety import Look, Safety
from guardcone.span import Written
from guardcone.values import Duration

__all__ = ["LOOK"]


_ELECTRIC = frozenset({"electric"})
_GAS = frozenset({"gas", "natural-gas", "propane"})
# What each fact says of the kiln, and the fuels for which it holds.
_HEATS = {
    "may-burn-fuel": ("burns gas, oil or wood", frozenset(words_of("fuel")) - _ELECTRIC),
    "may-burn-gas": ("burns gas", _GAS),
    "may-burn-gas-or-oil": ("burns gas or oil", _GAS | {"oil"}),
    "may-be-electric": ("is electric", _ELECTRIC),
}


def _may_be_heated(name: str, said: str, fuels: frozenset[str]) -> Fact:
    def get(of: Of[Safety]) -> Any:
        """A plan that does not say its fuel, or not so that it can be read, may mean any."""
        kiln = of.case.plan.kiln
        if kiln is None or kiln.fuel is None:
            return True
        return Written(kiln.fuel.value in fuels, kiln.fuel.span)

    return Fact(name, FLAG, f"Yes if the kiln {said}, or the plan does not say what heats it.", get)


@SAFETY.fact(FLAG)
def _makes_monoxide(of: Of[Safety]) -> bool:
    """Yes if the firing makes carbon monoxide: it burns fuel or reduces, or may."""
    reduced = without_place(is_reduced(Of(of.case, of.case.plan)))
    return not is_electric(of.case) or reduced is not False


def _is_of_trade(inspection: Any, trade: str) -> bool:
    told = inspection.by.value.casefold() if inspection.by else ""
    return bool(pattern_for(trade).search(told)) and not pattern_for("no licence").search(told)


@SAFETY.of_line("electrics", FLAG)
def _inspected_by_electrician(inspection: Any) -> bool:
    """Yes if a licensed electrician inspected them."""
    return bool(inspection.by_electrician) or _is_of_trade(inspection, "electrician")


@SAFETY.of_line("gas_line", FLAG)
def _inspected_by_gas_fitter(inspection: Any) -> bool:
    """Yes if a licensed gas fitter inspected it."""
    return bool(inspection.by_gas_fitter) or _is_of_trade(inspection, "gas fitter")


def _first_day(when: Any) -> Any:
    if when is not None and isinstance(when.value, CalendarMonth):
        return Written(date(when.value.year, when.value.month, 1), when.span)
    return when


def _days_before(when: Any, plan: Plan) -> Any:
    """From a day, of a month its last one, to the day of the firing; never negative.

    So a month is never counted as longer ago than it can be. None where either is not said.
    """
    if when is None or plan.starts_on is None:
        return None
    day = when.value
    if isinstance(day, CalendarMonth):
        day = date(day.year + day.month // 12, day.month % 12 + 1, 1) - timedelta(days=1)
    days = (plan.starts_on.value - day).days
    return Written(Duration.of(max(0, days), "days"), when.span)


def _inspection_age(line: str) -> Callable[[Of[Safety]], Any]:
    def age(of: Of[Safety]) -> Any:
        found = getattr(of.it, line)
        age = _days_before(found.when, of.case.plan) if found else None
        return UNREADABLE if age is None and line in of.it.unreadable else age

    return age


def _in_years(age: Callable[[Of[Any]], Any]) -> Callable[[Of[Any]], Any]:
    """The same in words: nobody counts the days of many years."""

    def told(of: Of[Any]) -> Any:
        found = age(of)
        if not isinstance(found, Written):
            return found
        years = int(found.value.hours // (24 * 365.25))
        return Written(f"{years} years" if years > 1 else str(found.value), found.span)

    return told


SAFETY.add(*(_may_be_heated(name, *heat) for name, heat in _HEATS.items()))
for _line, _it, _were, _inspected, _age in (
    ("electrics", "the electrics", "were", "inspected", "inspection-age"),
    ("gas_line", "the gas line", "was", "gas-line-inspected", "gas-line-age"),
):
    _doc = f"How long before the firing {_it} {_were} inspected."
    SAFETY.part(
        _inspected, DATE, f"When {_it} {_were} inspected.", _line, lambda one: _first_day(one.when)
    )
    SAFETY.part(_line.replace("_", "-"), TEXT, f"What is said of {_it}.", _line, lambda _: "said")
    SAFETY.add(Fact(_age, DURATION, _doc, _inspection_age(_line)))
    _doc = "The same in words, of many years without the days."
    SAFETY.add(Fact(f"{_age}-told", TEXT, _doc, _in_years(_inspection_age(_line))))


LOOK = PlanSubject(
    "look",
    "Who looked at what is fitted, and when: by the plan, or by the studio's file.",
    lambda case: [Of(case, one) for one in case.plan.safety.looks] if case.plan.safety else [],
    lambda of: of.it.span,
)


@LOOK.fact(DURATION)
def _look_age(of: Of[Look]) -> Any:
    """How long before the firing it was."""
    return _days_before(of.it.on, of.case.plan)


LOOK.add(
    Fact(
        "look-age-told",
        TEXT,
        "The same in words, of many years without the days.",
        _in_years(lambda of: _days_before(of.it.on, of.case.plan)),
    )
)


@LOOK.of_part(DATE)
def _looked_on(look: Look) -> Any:
    """When somebody looked."""
    return _first_day(look.on)


@LOOK.of_part(TEXT)
def _looked_by(look: Look) -> Any:
    """Who looked."""
    nobody = look.by is None or names_nobody(look.by.value)
    return Written(None, look.span) if nobody else look.by


@LOOK.of_part(TEXT)
def _stands_in(look: Look) -> Any:
    """Where the studio's file says it."""
    return Written(look.place or None, look.span)
