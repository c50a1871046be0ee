"""guardcone reads a kiln-firing plan, computes the firing and says what would go wrong.

For programs that want to ask it directly:

    import guardcone

    checked = guardcone.check(text)          # findings, as `guardcone check` gives them
    coming = guardcone.forecast(text)        # the computed firing, as `guardcone forecast` gives it
"""

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from guardcone.checking.plans import CheckedPlan
    from guardcone.outlook.records import PlanForecast

__all__ = ["__version__", "check", "forecast"]

__version__ = "0.1.0"


def check(text: str, name: str = "plan") -> "CheckedPlan":
    """Check the text of one plan against the built-in rule book.

    `name` is what the findings call it. Faults of the text are findings; nothing is raised for what
    a person may have written.
    """
    # Imported here, so that `import guardcone` costs nothing until it is used.
    from guardcone.checking.plans import check_plan
    from guardcone.language import SourceText, split_lines
    from guardcone.plan import read_plan
    from guardcone.rulebook.library import built_in_book

    return check_plan(read_plan(SourceText(name, split_lines(text))), built_in_book())


def forecast(text: str, name: str = "plan") -> "PlanForecast":
    """Compute the firing that the text of one plan describes; a plan without one says so."""
    from guardcone.language import SourceText, split_lines
    from guardcone.outlook.outlook import forecast_of
    from guardcone.plan import read_plan

    return forecast_of(read_plan(SourceText(name, split_lines(text))))
