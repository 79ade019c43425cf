"""From belief to a verdict for each part.

Each complaint has a likeliest cause; it is planned. Where another cause is at least half as likely and a try
at it costs less for its chance (chance times holding, by price), that one is tried first. Everything else that
may lie behind a complaint is allowed for, not planned. What was found with the machine open is planned too,
as far as the brief covers it; what is unsafe is always covered.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from diagtree.errors import UnknownNameError
from diagtree.library.library import Library
from diagtree.model.family import Remedy, Risk, Verdict
from diagtree.model.workshop import Brief
from diagtree.work import weighing
from diagtree.work.fitting import absent_parts
from diagtree.work.prices import Prices
from diagtree.work.result import Option, PartVerdict
from diagtree.work.words import money, odds

if TYPE_CHECKING:
    from diagtree.reasoning.belief import Belief
    from diagtree.reasoning.evidence import Evidence

HALF_AS_LIKELY = 0.5
WORTH_SAYING = 0.05
"""A cause with less chance than this is not printed as something that it may be."""
LEAVE = "leave"
"""What a mechanic says instead of a remedy to leave a part as it is."""


def covers(brief: Brief, risk: Risk) -> bool:
    """Tell whether a brief covers what nobody complained of: safety always.

    Examples
    --------
    >>> [covers(Brief.SERVICE, risk) for risk in Risk]
    [True, True, False]
    """
    allowed = {
        Brief.ROADWORTHY: {Risk.UNSAFE},
        Brief.SERVICE: {Risk.UNSAFE, Risk.DAMAGE},
        Brief.FULL: {Risk.UNSAFE, Risk.DAMAGE, Risk.NUISANCE},
    }
    return risk in allowed[brief]


@dataclass(frozen=True)
class Judged:
    """What the verdicts come to, for the plan and the estimate."""

    verdicts: tuple[PartVerdict, ...]
    remedies: tuple[str, ...]
    """Planned, each once, in the order of the verdicts."""
    let_be: frozenset[str] = field(default_factory=frozenset)
    """Causes that the mechanic leaves as they are: they cost nothing."""
    instead: Mapping[str, str] = field(default_factory=dict)
    """Causes for which the mechanic chose a remedy, with that remedy."""
    absent: frozenset[str] = field(default_factory=frozenset)
    """Parts that the machine does not have."""

    def cure(self, prices: Prices, cause: str) -> str | None:
        """Return the planned remedy for a cause, or None.

        The mechanic's choice comes first, then the strongest that the author lists, then a new part in place
        of the old.
        """
        if cause in self.instead:
            return self.instead[cause]
        listed = prices.library.cause(cause).remedies
        planned = [remedy for remedy in self.remedies if prices.cures(remedy, cause)]
        return max(planned, key=lambda remedy: listed.index(remedy) if remedy in listed else -1, default=None)


def home(library: Library, cause: str) -> str:
    """Return the part that a cause is about; a cause without a part stands for itself."""
    return library.cause(cause).part or cause


def part_title(library: Library, name: str) -> str:
    """Return the title of a part, or of a cause that has none."""
    if name in library.parts:
        return library.parts[name].title
    return library.causes[name].title if name in library.causes else name.rpartition("/")[2]


def wanted(prices: Prices, belief: Belief, evidence: Evidence, brief: Brief) -> dict[str, tuple[str, ...]]:
    """Return the causes that are planned for, each with the complaints that it answers.

    What was seen on the machine answers a complaint if it is at least half as likely behind it as the
    likeliest cause; otherwise the likeliest is planned as well. What was seen and lies behind no complaint is
    planned if the brief covers it.
    """
    seen = [cause for cause, there in evidence.found.items() if there]
    answers: dict[str, list[str]] = {}
    for symptom in evidence.complaints:
        behind = belief.behind(symptom)
        enough = HALF_AS_LIKELY * max(behind.values())
        explained = [cause for cause in seen if behind.get(cause, 0.0) >= enough]
        for cause in explained or [_first_try(prices, behind)]:
            answers.setdefault(cause, []).append(symptom)
    for cause in seen:
        if cause not in answers and covers(brief, prices.library.cause(cause).risk):
            answers[cause] = []
    return {cause: tuple(symptoms) for cause, symptoms in answers.items()}


def _first_try(prices: Prices, behind: Mapping[str, float]) -> str:
    likeliest = max(behind, key=lambda cause: behind[cause])
    near = [cause for cause, chance in behind.items() if chance >= HALF_AS_LIKELY * behind[likeliest]]
    # What can hurt is not put off for what is cheap to try.
    unsafe = [cause for cause in near if prices.library.cause(cause).risk is Risk.UNSAFE]

    def worth(cause: str) -> tuple[float, float]:
        remedy = prices.choice(prices.library.cause(cause))
        price = float(prices.remedy_price(remedy)) or 0.01
        return behind[cause] * float(prices.remedy(remedy).holds) / price, behind[cause]

    return max(unsafe if likeliest in unsafe else near, key=worth)


def judge(
    prices: Prices,
    belief: Belief,
    evidence: Evidence,
    brief: Brief,
    wishes: Iterable[str] = (),
    overrule: Mapping[str, str] | None = None,
) -> Judged:
    """Give each part its verdict.

    Parameters
    ----------
    prices
        Library and workshop.
    belief, evidence
        What is thought and what was told.
    brief
        How much the customer wants done.
    wishes
        Remedies that the customer wants besides.
    overrule
        Part or cause, and the remedy that the mechanic chooses for it, or ``leave``.

    Raises
    ------
    UnknownNameError
        If a wish or an overruling names a remedy, a part or a cause that does not exist.
    """
    asked = wanted(prices, belief, evidence, brief)
    desk = _Desk(prices, belief, evidence, dict(overrule or {}))
    rows = [*desk.planned(asked), *desk.wished(wishes)]
    remedies = tuple(dict.fromkeys(row.remedy for row in rows if row.planned))
    rows += desk.allowed_for(remedies)
    absent = absent_parts(prices.library, evidence)
    return Judged(tuple(rows), remedies, frozenset(desk.let_be), dict(desk.instead), absent)


class _Desk:
    """One sitting of judging: belief, prices and what the mechanic says, at hand."""

    def __init__(self, prices: Prices, belief: Belief, evidence: Evidence, overrule: dict[str, str]) -> None:
        self.prices = prices
        self.library = prices.library
        self.belief = belief
        self.evidence = evidence
        self.overrule = overrule
        known = [*self.library.parts, *self.library.causes]
        for key, said in overrule.items():
            if key not in known:
                raise UnknownNameError("part", key, known)
            if said != LEAVE:
                prices.remedy(said)
        self.let_be: set[str] = set()
        self.instead: dict[str, str] = {}
        self.behind: dict[str, float] = {}
        for symptom in evidence.complaints:
            for cause, chance in belief.behind(symptom).items():
                self.behind[cause] = max(chance, self.behind.get(cause, 0.0))

    def weight(self, cause: str) -> float:
        """Chance that the cause is what it is about: found, or behind a complaint."""
        return 1.0 if self.evidence.found.get(cause) else self.behind.get(cause, 0.0)

    def planned(self, asked: Mapping[str, tuple[str, ...]]) -> list[PartVerdict]:
        """Verdicts for the causes that are planned for, one for each part and remedy."""
        rows: list[PartVerdict] = []
        for place in dict.fromkeys(home(self.library, cause) for cause in asked):
            here = [cause for cause in asked if home(self.library, cause) == place]
            beside = {
                cause: self.weight(cause)
                for cause in self.behind
                if home(self.library, cause) == place and self.weight(cause) >= WORTH_SAYING
            }
            weights = beside | {cause: max(self.weight(cause), 1e-6) for cause in here}
            open_causes = sorted(here, key=lambda cause: (-weights[cause], cause))
            while open_causes:
                row = self._verdict(open_causes[0], weights, asked)
                rows.append(row)
                if row.overruled and open_causes[0] not in self.overrule:
                    break  # The mechanic has decided for the whole part.
                open_causes = [
                    cause
                    for cause in open_causes[1:]
                    if cause not in self.let_be and not (row.remedy and self.prices.cures(row.remedy, cause))
                ]
            rows = self._without_needless(rows, here)
        complaint = {symptom: i for i, symptom in enumerate(self.evidence.complaints)}
        return sorted(
            rows,
            key=lambda row: (
                not row.planned,
                weighing.GRAVITY[row.risk],
                min((complaint[s] for s in row.complaints), default=len(complaint)),
                -row.chance,
                row.part,
            ),
        )

    def _without_needless(self, rows: list[PartVerdict], here: list[str]) -> list[PartVerdict]:
        """Leave out what is done to a part for nothing because another remedy for it cures all that too."""
        answered = {
            row.remedy: {c for c in here if c == row.cause or self.prices.cures(row.remedy, c)}
            for row in rows
            if row.planned
        }
        needless = {
            remedy: next((other for other, more in answered.items() if causes and causes < more), None)
            for remedy, causes in answered.items()
        }
        kept = []
        for row in rows:
            if needless.get(row.remedy) is not None and not row.overruled:
                continue
            also = [old for old in rows if needless.get(old.remedy) == row.remedy and not old.overruled]
            complaints = dict.fromkeys((*row.complaints, *(s for old in also for s in old.complaints)))
            kept.append(replace(row, complaints=tuple(complaints)))
        return kept

    def _verdict(
        self, main: str, weights: Mapping[str, float], asked: Mapping[str, tuple[str, ...]]
    ) -> PartVerdict:
        risk = weighing.gravest(self.prices, weights)
        weighed = weighing.options(self.prices, main, weights)
        figures = weighing.choose(weighed, risk)
        title = part_title(self.library, self._place(main, figures.remedy))
        said = self._said(main, figures.remedy)
        chosen: Option | None = figures
        text = weighing.reason(title, figures, weighed, risk, self.prices.workshop.currency)
        if said == LEAVE:
            self.let_be |= {main} if main in self.overrule else set(self._on_the_part_of(main))
            chosen, text = None, weighing.overruled(title, None, figures)
        elif said is not None and said != figures.remedy:
            listed = {option.remedy: option for option in weighed}
            chosen = listed.get(said) or self._option(said)
            text = weighing.overruled(title, chosen, figures)
            self.instead |= dict.fromkeys([main] if main in self.overrule else weights, said)
        elif self.prices.remedy(figures.remedy).stop_work:
            entry = self.library.cause(main)
            text = f"{title}: {figures.verdict.value}. {entry.refer or 'It goes to somebody else.'} "
            text += "Nothing is fitted before that is decided."
        else:
            text += self._why_first(main, figures, asked[main])
        decided = {*self.let_be, *self.instead}.intersection(self._on_the_part_of(main))
        cured = [
            cause
            for cause in asked
            if cause == main or cause in decided or (chosen and self.prices.cures(chosen.remedy, cause))
        ]
        curable = {
            cause: weight
            for cause, weight in weights.items()
            if cause == main or (chosen and self.prices.cures(chosen.remedy, cause))
        }
        return self._row(
            max(curable, key=lambda cause: curable[cause]), chosen, text, weighed, risk,
            weights=weights,
            complaints=tuple(dict.fromkeys(symptom for cause in cured for symptom in asked[cause])),
            overruled=said is not None and said != figures.remedy,
        )  # fmt: skip

    def _on_the_part_of(self, main: str) -> list[str]:
        place = home(self.library, main)
        return [cause for cause in self.library.causes if home(self.library, cause) == place]

    def _why_first(self, main: str, figures: Option, complaints: tuple[str, ...]) -> str:
        """Say why something less likely is tried first, if that is so."""
        for symptom in complaints:
            behind = self.belief.behind(symptom)
            likeliest = max(behind, key=lambda cause: behind[cause])
            if behind[likeliest] > behind.get(main, 0.0) and not self.prices.cures(figures.remedy, likeliest):
                dearer = self._option(self.prices.choice(self.library.cause(likeliest)))
                return (
                    f" Tried first: {odds(behind.get(main, 0.0))}, and it costs {self.prices.workshop.currency} "
                    f"{figures.price}; '{self.library.cause(likeliest).title}' is {odds(behind[likeliest])} "
                    f"and costs {dearer.price}."
                )
        return ""

    def _place(self, cause: str, remedy: str) -> str:
        return self.prices.remedy(remedy).part or home(self.library, cause)

    def _said(self, cause: str, remedy: str) -> str | None:
        for key in (cause, self._place(cause, remedy), home(self.library, cause)):
            if key in self.overrule:
                return self.overrule[key]
        return None

    def _option(self, remedy: str) -> Option:
        entry = self.prices.remedy(remedy)
        price = money(self.prices.remedy_price(remedy))
        minutes = float(self.prices.minutes(self.prices.jobs_of([remedy])))
        return Option(remedy, entry.title, entry.verdict, float(entry.holds) / 100, price, price, minutes)

    def _row(
        self,
        main: str,
        chosen: Option | None,
        text: str,
        weighed: tuple[Option, ...],
        risk: Risk,
        *,
        weights: Mapping[str, float],
        complaints: tuple[str, ...] = (),
        overruled: bool = False,
        planned: bool = True,
    ) -> PartVerdict:
        cause = self.library.cause(main)
        remedy: Remedy | None = self.prices.remedy(chosen.remedy) if chosen else None
        place = self._place(main, chosen.remedy) if chosen else home(self.library, main)
        others = sorted(
            ((c, w) for c, w in weights.items() if c != main), key=lambda item: (-item[1], item[0])
        )
        return PartVerdict(
            part=place,
            part_title=part_title(self.library, place),
            cause=main,
            cause_title=cause.title,
            chance=self.belief.present.get(main, self.weight(main)) if not complaints else self.weight(main),
            risk=risk,
            verdict=chosen.verdict if chosen else Verdict.LEAVE,
            remedy=chosen.remedy if chosen else "",
            remedy_title=chosen.title if chosen else "Leave it as it is",
            reason=text,
            options=weighed,
            complaints=complaints,
            planned=planned and chosen is not None,
            overruled=overruled,
            other_causes=tuple(others),
            refer=cause.refer,
            caution=tuple(dict.fromkeys((*cause.caution, *(remedy.caution if remedy else ())))),
            verify=remedy.verify if remedy else (),
            next_due=remedy.next_due if remedy else None,
            basis=(remedy.basis if remedy else cause.basis) or "",
        )

    def wished(self, wishes: Iterable[str]) -> list[PartVerdict]:
        """Verdicts for remedies that the customer wants besides; jobs are left to the plan."""
        rows = []
        for name in wishes:
            if name in self.library.jobs and name not in self.library.remedies:
                continue
            remedy = self.prices.remedy(name)
            place = remedy.part or next(iter(remedy.parts), name)
            title = part_title(self.library, place) if place in self.library.parts else remedy.title
            option = self._option(name)
            rows.append(
                PartVerdict(
                    part=place, part_title=title, cause="", cause_title="The customer wishes it", chance=0.0,
                    risk=Risk.NUISANCE, verdict=remedy.verdict, remedy=name, remedy_title=remedy.title,
                    reason=f"{title}: {remedy.verdict.value}. The customer wishes it.", options=(option,),
                    caution=remedy.caution, verify=remedy.verify, next_due=remedy.next_due,
                    basis=remedy.basis or "",
                )
            )  # fmt: skip
        return rows

    def allowed_for(self, remedies: tuple[str, ...]) -> list[PartVerdict]:
        """Verdicts for what may lie behind a complaint and is not planned for: likeliest first."""
        rest: dict[tuple[str, str], list[str]] = {}
        for cause, chance in sorted(self.behind.items(), key=lambda item: (-item[1], item[0])):
            entry = self.library.cause(cause)
            cured = cause in self.instead or any(self.prices.cures(remedy, cause) for remedy in remedies)
            if chance >= WORTH_SAYING and not cured and cause not in self.let_be:
                rest.setdefault((home(self.library, cause), self.prices.choice(entry)), []).append(cause)
        rows = []
        for (_, remedy), causes in rest.items():
            main = causes[0]
            weights = {cause: self.behind[cause] for cause in causes}
            option = self._option(remedy)
            title = part_title(self.library, self._place(main, remedy))
            said = self._said(main, remedy)
            if said == LEAVE:
                self.let_be |= set(causes)
                continue
            overruled = said is not None and said != remedy and said in self.library.cause(main).remedies
            if said is not None and overruled:
                option = self._option(said)
            text = weighing.allowed_for(title, option, sum(weights.values()), self.prices.workshop.currency)
            rows.append(
                self._row(
                    main, option, text, weighing.options(self.prices, main, weights),
                    weighing.gravest(self.prices, weights), weights=weights,
                    complaints=tuple(s for s in self.evidence.complaints if main in self.library.causes_of[s]),
                    overruled=overruled, planned=False,
                )
            )  # fmt: skip
        return rows
