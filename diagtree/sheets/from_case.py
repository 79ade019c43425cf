"""From a case to its papers."""

from __future__ import annotations

from decimal import Decimal, InvalidOperation
from typing import TYPE_CHECKING

from diagtree.case.events import DONE
from diagtree.errors import ExpectedError
from diagtree.model.workshop import Brief, Workshop
from diagtree.sheets.facts import Agreed, Asked, CaseFacts, Found, HandedOver, Tightened, Told
from diagtree.sheets.paper import Kind, Paper, paper_for

if TYPE_CHECKING:
    from collections.abc import Iterator

    from diagtree.case.view import View
    from diagtree.work.result import Work


def facts_of(view: View) -> CaseFacts:
    """Gather what the papers tell of a case.

    Parameters
    ----------
    view
        The case, seen through the library.

    Returns
    -------
    CaseFacts
        In the words in which things were asked and answered.
    """
    case = view.case
    asked = [
        Asked(
            "" if step.place.is_look else step.title,
            step.asked,
            step.says,
            Told.ANSWERED if step.answer is not None else Told.CANNOT_TELL,
        )
        for step in view.way
    ]
    asked += [
        Asked("" if one.place.is_look else one.title, one.asked, one.reason, Told.SKIPPED)
        for one in view.skipped
    ]
    walks = view.standing.walks
    asked_at = {step.place: step.asked for step in (*view.way, *view.aside)}
    asked_at |= {one.place: one.asked for one in view.skipped}
    return CaseFacts(
        complaints=view.complaints,
        label=case.label,
        opened=case.opened,
        updated=case.updated,
        asked=tuple(asked),
        moved=tuple(_moved(view)),
        notes=tuple(
            f"{note.text} (at: {asked_at[note.place]})" if note.place in asked_at else note.text
            for note in case.notes
        ),
        wishes=tuple(_wish(view, name) for name in case.wishes),
        found=tuple(
            Found(cause, event.present, event.note)
            for cause, event in case.found.items()
            if event.present is not None
        ),
        overruled=tuple((part, event.reason) for part, event in case.overruled.items() if event.reason),
        jobs_done=tuple(case.jobs_done.items()),
        torques=tuple(
            (name, Tightened(None if event.value == DONE else _number(event.value), event.note))
            for name, event in case.torques.items()
        ),
        agreed=None
        if case.agreed is None
        else Agreed(
            _number(case.agreed.price),
            _number(case.agreed.ceiling) if case.agreed.ceiling else None,
            case.agreed.when,
            case.agreed.note,
        ),
        handed_over=None
        if case.handed_over is None
        else HandedOver(
            case.handed_over.by,
            case.handed_over.when,
            tuple(case.handed_over.confirmed.items()),
            case.handed_over.note,
        ),
        trees=tuple((symptom, case.trees[symptom]) for symptom in view.complaints if symptom in case.trees),
        finished=bool(walks)
        and (case.finished or not any(walk.open or walk.follow for walk in walks.values())),
    )


MOST_MOVED = 2
"""So many answers are named for each side of the picture."""


def _moved(view: View) -> Iterator[tuple[str, str]]:
    """Tell for each side of the picture which answers moved it most."""
    from diagtree.reasoning.why import what_moved

    belief = view.belief_if_any
    for moved in what_moved(belief) if belief is not None else ():
        yield from ((moved.condition, weight.reason) for weight in moved.weights[:MOST_MOVED])


def _wish(view: View, name: str) -> str:
    library = view.library
    known = library.remedies.get(name) or library.jobs.get(name)
    return known.title if known is not None else name


def _number(text: str) -> Decimal:
    try:
        return Decimal(text)
    except InvalidOperation:
        raise ExpectedError(
            f"The case holds '{text}' where a number belongs.", "Enter that figure again."
        ) from None


def work_of(view: View, workshop: Workshop, brief: Brief | None = None) -> Work:
    """Work out what follows from a case: verdicts, plan, torque round, fluids, price.

    Parameters
    ----------
    view
        The case, seen through the library.
    workshop
        Whose rates and wrenches count.
    brief
        How much the customer wants; by default what the case says, or else the workshop.

    Raises
    ------
    ExpectedError
        If no complaint has been chosen, or nothing can be worked out.
    """
    from diagtree.work.work import work_out

    case = view.case
    if case.complaints and not view.complaints:
        raise ExpectedError(
            f"The complaints of the case are in no tree here: {', '.join(case.complaints)}.",
            "Name the folder of its trees: --trees DIR.",
        )
    if not case.complaints:
        raise ExpectedError(
            "The case has no complaint yet, so there is nothing to work out.", "Choose one first."
        )
    if brief is None and case.brief:
        brief = Brief(case.brief)
    return work_out(
        view.library,
        view.belief,
        view.evidence,
        workshop,
        brief=brief,
        wishes=case.wishes,
        overrule={part: event.remedy for part, event in case.overruled.items()},
    )


def paper_of_case(kind: Kind | str, view: View, workshop: Workshop, work: Work | None = None) -> Paper:
    """Make one of the four papers of a case.

    Parameters
    ----------
    kind
        Which.
    view
        The case, seen through the library.
    workshop
        Whose paper it is.
    work
        What follows from the case, if that is known already.

    Raises
    ------
    ExpectedError
        If no complaint has been chosen, or nothing can be worked out.
    """
    if work is None:
        work = work_of(view, workshop)
    return paper_for(kind, view.library, facts_of(view), view.belief, work, workshop)
