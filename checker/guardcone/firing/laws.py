"""Which law stands for a cone of a plan, where its own is not published too."""

from functools import lru_cache

from attrs import evolve, frozen

from guardcone.firing.cones import ConeKinetics, kinetics_of
from guardcone.values import Cone, ConeForm, Numbering

__all__ = ["Law", "kinetics_for", "law_of"]


@frozen
class Law:
    """The law used for a cone; `borrowed` where the chart lacks that number in that series.

    Which law stands in, `kinetics.series` and `kinetics.cone` say.
    """

    kinetics: ConeKinetics
    borrowed: bool


@lru_cache(maxsize=256)
def law_of(cone: Cone) -> Law | None:
    """The law of a cone, borrowed where its own is not published, or None where there is none.

    Only the current Orton chart has laws: the same number of Seger, SK or the older chart is
    another cone and never takes one of these. A number that one series of the chart does not
    publish is taken from the nearest series that does: the iron-free from the regular (no
    iron-free cones are listed beside 010 to 1 and 3), then the large or small from the
    self-supporting (for large cones the chart has both within a few degrees of each other).
    A letter (6a) belongs to other makers; where the plan names none of them, the number alone
    stands in, and the law counts as borrowed.
    """
    series = cone.series
    if series.numbering is not Numbering.ORTON:
        return None
    number = str(cone.number.without_letter)
    for candidate in (
        series,
        evolve(series, iron_free=False),
        evolve(series, form=ConeForm.SELF_SUPPORTING),
        evolve(series, form=ConeForm.SELF_SUPPORTING, iron_free=False),
    ):
        found = kinetics_of(candidate.table, number)
        if found is not None:
            own = candidate == series and str(cone.number) == number
            return Law(found, not own)
    return None


def kinetics_for(cone: Cone) -> ConeKinetics | None:
    """The numbers of `law_of`, or None where the cone's numbering has no law."""
    law = law_of(cone)
    return law.kinetics if law else None
