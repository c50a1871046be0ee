"""What heats the kiln, and who inspected what feeds it."""

from calendar import monthrange
from collections.abc import Callable
from datetime import date
from typing import Any

from guardcone.condition.kinds import DATE, DURATION, FLAG, TEXT
from guardcone.condition.vocabulary import UNREADABLE, Fact
from guardcone.facts.case import Of
from guardcone.facts.safety import SAFETY
from guardcone.language.grammar import words_of
from guardcone.language.meanings import pattern_for
from guardcone.language.tokens import CalendarMonth
from guardcone.plan.safety import Safety
from guardcone.span import Written
from guardcone.values import Duration

__all__: list[str] = []


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
        """A plan that does not say its fuel may mean any."""
        kiln = of.case.plan.kiln
        if kiln is None or kiln.fuel is None:
            return UNREADABLE if kiln and "fuel" in kiln.unreadable else True
        return Written(kiln.fuel.value in fuels, kiln.fuel.span)

    return Fact(name, FLAG, f"Yes if the kiln {said}, or the plan does not say what heats it.", get)


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


def _first_day(inspection: Any) -> Any:
    when = inspection.when
    if when is not None and isinstance(when.value, CalendarMonth):
        return Written(date(when.value.year, when.value.month, 1), when.span)
    return when


def _inspection_age(line: str) -> Callable[[Of[Safety]], Any]:
    def age(of: Of[Safety]) -> Any:
        """From the inspection, of a month its last day, to the day of the firing; never negative.

        So a month is never counted as longer ago than it can be.
        """
        inspection, plan = getattr(of.it, line), of.case.plan
        if inspection is None or inspection.when is None or plan.starts_on is None:
            return UNREADABLE if line in of.it.unreadable else None
        when = inspection.when.value
        if isinstance(when, CalendarMonth):
            when = date(when.year, when.month, monthrange(when.year, when.month)[1])
        days = (plan.starts_on.value - when).days
        return Written(Duration.of(max(0, days), "days"), inspection.when.span)

    return age


SAFETY.add(*(_may_be_heated(name, *heat) for name, heat in _HEATS.items()))
for _line, _it, _were, _inspected, _age in (
    ("electrics", "the electrics", "were", "inspected", "inspection-age"),
    ("gas_line", "the gas line", "was", "gas-line-inspected", "gas-line-age"),
):
    _doc = f"How long before the firing {_it} {_were} inspected."
    SAFETY.part(_inspected, DATE, f"When {_it} {_were} inspected.", _line, _first_day)
    SAFETY.part(_line.replace("_", "-"), TEXT, f"What is said of {_it}.", _line, lambda _: "said")
    SAFETY.add(Fact(_age, DURATION, _doc, _inspection_age(_line)))
