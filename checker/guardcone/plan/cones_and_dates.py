"""Parts that several sections share: cones, series, maturity, dates."""

from collections.abc import Iterable
from datetime import date

from attrs import frozen

from guardcone.language import Keyword, Part
from guardcone.language.tokens import CalendarMonth
from guardcone.span import Span, Written
from guardcone.values import (
    Cone,
    ConeForm,
    ConeNumber,
    ConeSeries,
    Numbering,
    Temperature,
)

__all__ = ["Maturity", "cone_of", "keyword_of", "maturity_of", "series_of", "when_of"]


# What a plan means that does not say its series: the cones that stand in a pad.
LARGE_CONES = ConeSeries()


@frozen
class Maturity:
    """From where to where a clay or glaze matures: in cones or, some makers, in temperatures."""

    span: Span
    coolest: Written[Cone] | None = None
    hottest: Written[Cone] | None = None
    lowest: Written[Temperature] | None = None
    highest: Written[Temperature] | None = None


_FORMS = {
    "large": ConeForm.LARGE,
    "self-supporting": ConeForm.SELF_SUPPORTING,
    "small": ConeForm.SMALL,
}
_NUMBERINGS = {
    "orton": Numbering.ORTON,
    "orton-older": Numbering.ORTON_OLDER,
    "seger": Numbering.SEGER,
    "sk": Numbering.SK,
    "staffordshire": Numbering.STAFFORDSHIRE,
}


def keyword_of(part: Part | None) -> Written[str] | None:
    """The first keyword of a part, as a written word."""
    return None if part is None else part.value(Keyword)


def series_of(part: Part | None, base: ConeSeries = LARGE_CONES) -> Written[ConeSeries] | None:
    """The series that a `series_words` part names; what it leaves open is as in `base`."""
    if part is None:
        return None
    return _series((part,), base)


def _series(parts: Iterable[Part], base: ConeSeries) -> Written[ConeSeries] | None:
    words = [
        word for part in parts for one in part.parts("series_word") for word in one.values(Keyword)
    ]
    if not words:
        return None
    form, numbering, iron_free = base.form, base.numbering, base.iron_free
    for word in words:
        form = _FORMS.get(word.value, form)
        numbering = _NUMBERINGS.get(word.value, numbering)
        iron_free = iron_free or word.value == "iron-free"
    return Written(ConeSeries(form, iron_free, numbering), words[0].span.to(words[-1].span))


def cone_of(part: Part | None, series: ConeSeries = LARGE_CONES) -> Written[Cone] | None:
    """The cone of a `cone` part; its span is that of the number alone."""
    if part is None:
        return None
    number = part.value(ConeNumber)
    if number is None:
        return None
    own = _series(part.parts("series_words"), series)
    return Written(Cone(number.value, own.value if own else series), number.span)


def maturity_of(part: Part | None) -> Maturity | None:
    """The range of a clay or glaze; a single cone is both its ends."""
    if part is None:
        return None
    start, *_, end = (*part.parts("heat"),) * 2
    # The words around the range (`matures`, `to`) are not part of what a finding points at.
    span: Span = start.span.to(end.span)
    coolest = cone_of(start.part("cone"))
    hottest = cone_of(end.part("cone"), coolest.value.series if coolest else LARGE_CONES)
    return Maturity(span, coolest, hottest, start.value(Temperature), end.value(Temperature))


def when_of(part: Part | None) -> Written[date] | Written[CalendarMonth] | None:
    """The day or month of a `date` part."""
    if part is None:
        return None
    return part.value(date) or part.value(CalendarMonth)
