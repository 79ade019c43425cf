"""Enter what was found with the machine open, and see what it changes."""

from __future__ import annotations

import argparse
from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from diagtree.errors import ExpectedError, UnknownNameError

if TYPE_CHECKING:
    from diagtree.case.case import Case
    from diagtree.library.library import Library
    from diagtree.work.changes import Change

EXAMPLES = """\
  diagtree found blue-one CAUSE                        it is there: what changes in plan and price
  diagtree found blue-one CAUSE --absent               it is not there
  diagtree found blue-one CAUSE --agreed 120           against a price that was agreed by word
  diagtree found blue-one CAUSE --only-show            show what would change, enter nothing
"""


MOST_LISTED = 8
"""So many causes are listed where several fit."""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments, add_workshop_arguments

    parser.add_argument("case", metavar="CASE", help="the case: its name in the folder of cases, or its file")
    parser.add_argument("cause", metavar="CAUSE", help="what was found: its full name, or words of its title")
    parser.add_argument("--absent", action="store_true", help="it was looked for and is not there")
    parser.add_argument("--note", metavar="TEXT", default="", help="what was seen")
    parser.add_argument(
        "--agreed", metavar="PRICE",
        help="the most that the customer agreed to, tax included; entered in the case",
    )  # fmt: skip
    parser.add_argument("--only-show", action="store_true", help="enter nothing in the case")
    parser.add_argument("--json", action="store_true", help="print JSON")
    add_workshop_arguments(parser)
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Compare the work before and after; return 1 if the agreed ceiling is passed."""
    from contextlib import nullcontext

    from diagtree.case.journal import Journal
    from diagtree.case.log import MemoryLog
    from diagtree.case.walker import Walker
    from diagtree.commands.common import library_from, records_of, workshop_from
    from diagtree.commands.outgoing import write_json, write_out
    from diagtree.sheets.from_case import work_of
    from diagtree.work.changes import compare

    path, records = records_of(options.case)
    library = library_from(options)
    workshop = workshop_from(options, library)
    cause = find_cause(library, options.cause)
    agreed = None if options.agreed is None else _price(options.agreed)
    # What is only shown is read and left alone, even where it cannot be written or is open elsewhere.
    with nullcontext(MemoryLog(records)) if options.only_show else Journal.open(path) as log:
        walker = Walker(library, log)
        if not walker.case.complaints:
            raise ExpectedError(
                f"The case {path.name} has no complaint yet.", "Choose one first: diagtree diagnose."
            )
        before = work_of(walker.view, workshop)
        if agreed is not None:
            walker.agree(agreed)
        walker.found_out(cause, not options.absent, options.note)
        change = compare(before, work_of(walker.view, workshop), _ceiling(walker.case))
    if options.json:
        write_json(_plain(change, cause, before.estimate.currency))
    else:
        from diagtree.clean import clean

        title = library.causes[cause].title
        head = f"Not there: {title}." if options.absent else f"Found: {title}."
        write_out("\n".join(clean(line) for line in (head, *change.says)))
    return 1 if change.stop_and_ask else 0


def find_cause(library: Library, said: str) -> str:
    """Find a cause by its full name, by a bare name that is unique, or by words of its title.

    Raises
    ------
    diagtree.errors.UnknownNameError
        If none fits, or several do; they are listed.
    """
    if said in library.causes:
        return said
    low = said.casefold()
    for fits in (
        [name for name in library.causes if name.partition("/")[2] == low],
        [name for name, cause in library.causes.items() if cause.title.casefold() == low],
        [
            name
            for name, cause in library.causes.items()
            if all(word in cause.title.casefold() for word in low.split())
        ],
    ):
        if len(fits) == 1:
            return fits[0]
        if fits:
            listed = "".join(f"\n  {name}  {library.causes[name].title}" for name in fits[:MOST_LISTED])
            more = len(fits) - MOST_LISTED
            if more > 0:
                listed += f"\n  and {more} more"
            raise ExpectedError(f"'{said}' fits {len(fits)} causes. Name one in full:{listed}")
    raise UnknownNameError("cause", said, list(library.causes))


def _price(text: str) -> Decimal:
    try:
        price = Decimal(text.replace(",", "."))
    except InvalidOperation:
        price = Decimal("NaN")
    if not price.is_finite() or price < 0:
        raise ExpectedError(f"'{text}' is not a price.", "Write a plain number: --agreed 84.50")
    return price


def _ceiling(case: Case) -> Decimal | None:
    if case.agreed is None:
        return None
    return Decimal(case.agreed.ceiling or case.agreed.price)


def _plain(change: Change, cause: str, currency: str) -> dict[str, object]:
    def pair(values: tuple[object, object]) -> dict[str, str]:
        return {"before": str(values[0]), "after": str(values[1])}

    return {
        "schema": 1,
        "cause": cause,
        "currency": currency,
        "new-jobs": [job.job for job in change.new_jobs],
        "dropped-jobs": [job.job for job in change.dropped_jobs],
        "planned": pair(change.planned),
        "allowance": pair(change.allowance),
        "price": pair(change.price),
        "agreed": str(change.agreed),
        "ceiling": change.ceiling.value,
        "stop-and-ask": change.stop_and_ask,
        "says": list(change.says),
    }
