"""Advice that takes longer than a redraw: stop asking or not, and answers that do not fit together."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from queue import SimpleQueue
from threading import Thread

from diagtree.case.case import Case
from diagtree.case.places import Place
from diagtree.case.view import Memory, View
from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.model.workshop import Workshop


@dataclass(frozen=True, slots=True)
class Advice:
    """What is advised at one point of a case.

    Parameters
    ----------
    count
        The number of events that the case had: with more it is stale.
    stop
        Why to stop asking and what to start with; empty where asking on is cheaper.
    symptom
        The complaint that ``stop`` is about.
    misfit
        Which answer does not fit the others; empty where they fit.
    suspect
        The question to go back to, or None.
    """

    count: int
    stop: str = ""
    symptom: str = ""
    misfit: str = ""
    suspect: Place | None = None


class Adviser:
    """Weighs a case in a view of its own, so that it can do so beside the screen.

    Parameters
    ----------
    library, workshop
        What is known, and what work costs.

    Examples
    --------
    >>> Adviser(Library(), Workshop()).consider(Case())
    Advice(count=0, stop='', symptom='', misfit='', suspect=None)
    """

    def __init__(self, library: Library, workshop: Workshop) -> None:
        self._memory = Memory(library)
        self._workshop = workshop

    def consider(self, case: Case) -> Advice:
        """Weigh a case; nothing is advised where nothing can be worked out."""
        view = View(case, self._memory)
        place = view.place
        if place is None or place.is_look:
            return Advice(case.count)
        from diagtree.work.prices import Prices

        stop = symptom = misfit = ""
        suspect: Place | None = None
        try:
            if not case.asking_on:
                advice = view.advice(Prices(self._memory.library, self._workshop))
                if advice is not None and advice.stop:
                    stop, symptom = advice.reason, advice.symptom
            if view.conflict is not None and view.suspect is not None and view.suspect in case.given:
                misfit, suspect = view.conflict.reason, view.suspect
        except ExpectedError:
            return Advice(case.count)
        return Advice(case.count, stop, symptom, misfit, suspect)


class Beside:
    """Considers cases one after another in a thread, the latest first; what was overtaken is left out.

    Parameters
    ----------
    adviser
        Does the work.
    tell
        Called in that thread with each advice, or with the error that put an end to it.
    """

    def __init__(self, adviser: Adviser, tell: Callable[[Advice | BaseException], None]) -> None:
        self._adviser = adviser
        self._tell = tell
        self._wanted: SimpleQueue[Case | None] = SimpleQueue()
        self._last = -1
        self._thread: Thread | None = None

    def want(self, case: Case) -> None:
        """Ask for advice on a case, unless it was asked for before."""
        if case.count == self._last:
            return
        self._last = case.count
        self._wanted.put(case)
        if self._thread is None:
            # A daemon, so that leaving never waits for it.
            self._thread = Thread(target=self._work, name="advice", daemon=True)
            self._thread.start()

    def close(self) -> None:
        """Ask for nothing more."""
        self._wanted.put(None)

    def _work(self) -> None:
        while True:
            case = self._wanted.get()
            while not self._wanted.empty():
                case = self._wanted.get()
            if case is None:
                return
            try:
                advice: Advice | BaseException = self._adviser.consider(case)
            except BaseException as error:
                advice = error
            if self._wanted.empty():
                self._tell(advice)
