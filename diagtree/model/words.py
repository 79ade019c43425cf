"""The words that all models share: names, references, texts, counts and the strict base model."""

from __future__ import annotations

import re
import unicodedata
from decimal import Decimal
from typing import Annotated

from pydantic import AfterValidator, BaseModel, BeforeValidator, ConfigDict, Field, StringConstraints

NAME_PATTERN = r"^[a-z][a-z0-9-]{0,40}$"
REFERENCE_PATTERN = r"^[a-z][a-z0-9-]{0,40}(/[a-z][a-z0-9-]{0,40})?$"

Name = Annotated[str, StringConstraints(pattern=NAME_PATTERN)]
"""A name inside one file: ``lever-feel``."""

ChoiceName = Annotated[str, StringConstraints(pattern=r"^[a-z0-9][a-z0-9-]{0,40}$")]
"""The name of an answer, a state or a case: like a name, and ``no``, ``yes``, ``08`` are names too."""

Reference = Annotated[str, StringConstraints(pattern=REFERENCE_PATTERN)]
"""A name in this family, or ``family/name`` for another's."""

Text = Annotated[str, StringConstraints(min_length=1, max_length=4000, strip_whitespace=True)]

MOST_POWER = 12
"""Nothing that is counted, measured or paid needs a power of ten beyond this, up or down."""


def within_reason(value: Decimal) -> bool:
    """Tell whether a number can have been meant; ``1e999999999`` would bring any arithmetic to a standstill.

    Examples
    --------
    >>> within_reason(Decimal("0.5")), within_reason(Decimal("1e999")), within_reason(Decimal("1e-999"))
    (True, False, False)
    """
    return value.is_finite() and -MOST_POWER <= value.adjusted() <= MOST_POWER


def _reasonable(value: Decimal) -> Decimal:
    if not within_reason(value):
        raise ValueError(
            f"nobody means so {'large' if value.adjusted() > 0 else 'small'} a number: look at it again"
        )
    return value


Number = Annotated[Decimal, AfterValidator(_reasonable)]

Positive = Annotated[Decimal, Field(gt=0), AfterValidator(_reasonable)]

Times = Annotated[Decimal, Field(gt=0, le=1000), AfterValidator(_reasonable)]
"""How many times likelier."""

OutOf100 = Annotated[Decimal, Field(ge=0, le=100), AfterValidator(_reasonable)]
"""A count out of 100: the form in which people estimate best."""

Minutes = Annotated[Decimal, Field(ge=0, le=1000), AfterValidator(_reasonable)]

Money = Annotated[Decimal, Field(ge=0, le=1_000_000), AfterValidator(_reasonable)]


def _one_or_many(value: object) -> object:
    return (value,) if isinstance(value, str) else value


Texts = Annotated[tuple[Text, ...], BeforeValidator(_one_or_many)]
"""One text or a list of them."""

References = Annotated[tuple[Reference, ...], BeforeValidator(_one_or_many)]


def name_from(title: str) -> str:
    """Make a name of a title; empty if there is nothing in it to make one of.

    Examples
    --------
    >>> name_from("The water stays cold!"), name_from("Größe 5")
    ('the-water-stays-cold', 'grosse-5')
    """
    letters = unicodedata.normalize("NFKD", title.casefold())
    plain = "".join(letter for letter in letters if not unicodedata.combining(letter))
    return re.sub(r"[^a-z0-9]+", "-", plain).strip("-")[:40].strip("-")


def in_authors_words(field: str) -> str:
    """Spell a field's name as authors write it.

    Examples
    --------
    >>> in_authors_words("out_of_100"), in_authors_words("from_")
    ('out-of-100', 'from')
    """
    return field.rstrip("_").replace("_", "-")


class Written(BaseModel):
    """Something that an author wrote: frozen, and no key that the model does not know."""

    model_config = ConfigDict(
        frozen=True,
        extra="forbid",
        alias_generator=in_authors_words,
        populate_by_name=True,
        # A start from a kept library validates nothing: the validators are built when first needed.
        defer_build=True,
    )
