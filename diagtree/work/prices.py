"""What remedies cost in one workshop: minutes with opening and closing work, parts, fluids.

Nothing is rounded here, and all is before tax: sums are rounded once, on the bill.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from decimal import Decimal
from functools import cached_property

from diagtree.errors import UnknownNameError
from diagtree.library.library import Library
from diagtree.model.family import Cause, Remedy, Risk, Use, Verdict
from diagtree.model.workshop import Workshop
from diagtree.units import NotAQuantityError, convert
from diagtree.work import pert


class Prices:
    """A library's remedies, priced by one workshop; nothing changes once it is made.

    Parameters
    ----------
    library
        Where remedies, jobs, parts and fluids are looked up.
    workshop
        Whose rate and part prices count.
    """

    def __init__(self, library: Library, workshop: Workshop) -> None:
        self.library = library
        self.workshop = workshop
        self._jobs: dict[tuple[str, ...], tuple[str, ...]] = {}
        self._remedies: dict[str, Decimal] = {}

    def jobs_of(self, remedies: Iterable[str]) -> tuple[str, ...]:
        """Return all jobs that these remedies take, each once: their own, what these need, what closes them.

        Raises
        ------
        UnknownNameError
            If a remedy or a job does not exist.
        """
        asked = tuple(remedies)
        if asked not in self._jobs:
            first = [job for remedy in asked for job in self.remedy(remedy).jobs]
            self._jobs[asked] = all_jobs(self.library, first)
        return self._jobs[asked]

    def remedy(self, name: str) -> Remedy:
        """Return a remedy; raise `UnknownNameError` with near names if there is none."""
        try:
            return self.library.remedies[name]
        except KeyError:
            raise UnknownNameError("remedy", name, list(self.library.remedies)) from None

    @cached_property
    def minute(self) -> Decimal:
        """What a minute of labour costs."""
        return self.workshop.rate / 60

    def minutes(self, jobs: Iterable[str]) -> Decimal:
        """Return the expected minutes of jobs."""
        return sum((pert.mean(self.library.jobs[job].minutes) for job in jobs), Decimal(0))

    def part(self, name: str) -> Decimal | None:
        """Return what a part costs before tax, the workshop's own price first; None if nobody gave one."""
        price = self.workshop.part_prices.get(name)
        if price is None and name in self.library.parts:
            price = self.library.parts[name].price
        return None if price is None else self._net(price)

    def use(self, use: Use) -> Decimal | None:
        """Return what a fluid costs, as much as is used, before tax; None if price or amount is missing."""
        fluid = self.library.fluids.get(use.fluid)
        price = self.workshop.part_prices.get(use.fluid)
        if price is None and fluid is not None:
            price = fluid.price
        if price is None or use.amount is None or fluid is None:
            return None
        amount = use.amount
        if use.unit != fluid.unit:
            try:
                amount = convert(amount, use.unit, fluid.unit)
            except NotAQuantityError:
                return None
        return self._net(price) * amount

    def _net(self, price: Decimal) -> Decimal:
        return price / (1 + self.workshop.tax / 100) if self.workshop.prices_include_tax else price

    def amounts(self, remedies: Iterable[str]) -> dict[str, Decimal]:
        """Return the parts that remedies fit and how many of each.

        A part that two of them fit is fitted once: the larger amount counts, not the sum.
        """
        amounts: dict[str, Decimal] = {}
        for name in remedies:
            for part, amount in self.remedy(name).parts.items():
                amounts[part] = max(amount, amounts.get(part, amount))
        return amounts

    def uses(self, remedies: Iterable[str]) -> dict[tuple[str, str | None], tuple[Use, str]]:
        """Return the fluids that remedies ask for themselves, each with the remedy that needs most of it."""
        most: dict[tuple[str, str | None], tuple[Use, str]] = {}
        for name in remedies:
            for use in self.remedy(name).fluids:
                key = (use.fluid, use.into)
                if key not in most or (use.amount or 0) > (most[key][0].amount or 0):
                    most[key] = (use, name)
        return most

    def lots(self, remedies: Iterable[str]) -> dict[tuple[str, str | None], Decimal]:
        """Return what each part and each fluid of remedies costs; the unpriced cost nothing."""
        names = list(remedies)
        lots: dict[tuple[str, str | None], Decimal] = {
            (part, "part"): amount * (self.part(part) or 0) for part, amount in self.amounts(names).items()
        }
        return lots | {key: self.use(use) or Decimal(0) for key, (use, _) in self.uses(names).items()}

    def job_fluids(self, job: str) -> Decimal:
        """Return what the fluids of a job cost; the unpriced cost nothing."""
        return sum((self.use(use) or Decimal(0) for use in self.library.jobs[job].fluids), Decimal(0))

    def goods(self, remedies: Iterable[str], jobs: Iterable[str]) -> Decimal:
        """Return what the parts of remedies and the fluids of remedies and jobs cost."""
        return sum(self.lots(remedies).values(), Decimal(0)) + sum(map(self.job_fluids, jobs), Decimal(0))

    def cures(self, remedy: str, cause: str) -> bool:
        """Tell whether a remedy is one for a cause: the author lists it, or it fits a new part in its place."""
        entry, done = self.library.cause(cause), self.remedy(remedy)
        return remedy in entry.remedies or (done.verdict is Verdict.REPLACE and entry.part in done.parts)

    def remedy_price(self, name: str) -> Decimal:
        """Return the expected price of one remedy by itself: labour, parts and fluids, before tax."""
        if name not in self._remedies:
            jobs = self.jobs_of([name])
            self._remedies[name] = self.minutes(jobs) * self.minute + self.goods([name], jobs)
        return self._remedies[name]

    def expected_cost(self, cause: Cause, remedy: str) -> Decimal:
        """Return the price of a remedy and, if it does not hold, of the come-back and the next stronger one.

        After the strongest there is no stronger one: it is done again.
        """
        holds = self.remedy(remedy).holds / 100
        again = self.workshop.come_back + self.remedy_price(next_stronger(cause, remedy))
        return self.remedy_price(remedy) + (1 - holds) * again

    def choice(self, cause: Cause) -> str:
        """Return the remedy that a cause gets when it is alone.

        The least expected cost wins; an unsafe cause gets the remedy most sure to hold, the cheaper of two
        that are as sure.
        """
        if cause.risk is Risk.UNSAFE:
            return min(cause.remedies, key=lambda name: (-self.remedy(name).holds, self.remedy_price(name)))
        return min(cause.remedies, key=lambda name: self.expected_cost(cause, name))


def next_stronger(cause: Cause, remedy: str) -> str:
    """Return the remedy that follows one in a cause's list; the last one follows itself, and any stranger."""
    if remedy not in cause.remedies:
        return cause.remedies[-1]
    after = cause.remedies[cause.remedies.index(remedy) + 1 :]
    return after[0] if after else remedy


def all_jobs(library: Library, jobs: Iterable[str]) -> tuple[str, ...]:
    """Return jobs with all that they need done first and all that closes them again, each once.

    Raises
    ------
    UnknownNameError
        If a job does not exist.
    """
    found: dict[str, None] = {}
    waiting = list(jobs)[::-1]
    while waiting:
        name = waiting.pop()
        if name in found:
            continue
        if name not in library.jobs:
            raise UnknownNameError("job", name, list(library.jobs))
        found[name] = None
        job = library.jobs[name]
        waiting += (*job.after[::-1], *job.needs[::-1])
    return tuple(found)


def repair_cost(library: Library, cause: str, workshop: Workshop) -> Decimal:
    """Return what it takes to put one cause right, come-backs included, before tax.

    Parameters
    ----------
    library
        Where the cause is looked up.
    cause
        Its full name.
    workshop
        Whose rate, prices and come-back cost count.

    Returns
    -------
    Decimal
        The expected cost of the remedy that the cause gets when it is alone, in the workshop's currency.

    Raises
    ------
    UnknownNameError
        If there is no such cause.
    """
    prices = Prices(library, workshop)
    found = library.cause(cause)
    return prices.expected_cost(found, prices.choice(found))


def repair_costs(library: Library, workshop: Workshop, causes: Iterable[str]) -> Mapping[str, Decimal]:
    """Return `repair_cost` of several causes at once."""
    prices = Prices(library, workshop)
    return {
        name: prices.expected_cost(library.cause(name), prices.choice(library.cause(name))) for name in causes
    }
