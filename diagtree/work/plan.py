"""The plan: the jobs of all remedies merged, each done once, in an order that works.

- A job comes after what it needs.
- What opens the machine up is closed again by its closing jobs; these wait for everything that was done behind
  the opening, and what was opened last is closed first.
- The jobs of one remedy keep the order in which the author lists them. One that shares no opening with an
  earlier one waits until that is closed: a trial comes after the closing.
- What shares an opening is done together, in the order of the verdicts.
- A remedy's last job that needs nothing open is its trial: trials come last of all, those marked ``last`` at
  the very end.

The same plan comes out each time.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from diagtree.errors import ExpectedError
from diagtree.library.library import Library
from diagtree.work import pert
from diagtree.work.prices import Prices, all_jobs
from diagtree.work.result import PlannedJob, Stage

if TYPE_CHECKING:
    import networkx as nx

WISH = "wish"
"""Stands among the remedies that a job serves for a job that the customer wants by itself."""


class JobsInARingError(ExpectedError):
    """Jobs that wait for each other: no order does them all."""


def plan(prices: Prices, remedies: Iterable[str], wished_jobs: Iterable[str] = ()) -> tuple[PlannedJob, ...]:
    """Put the jobs of remedies into the order of work.

    Parameters
    ----------
    prices
        The library's remedies and jobs.
    remedies
        In the order of the verdicts.
    wished_jobs
        Jobs that the customer wants besides.

    Returns
    -------
    tuple of PlannedJob
        Each job once, numbered from 1.

    Raises
    ------
    JobsInARingError
        If jobs need each other in a ring; the ring is named.
    UnknownNameError
        If a remedy or a job does not exist.
    """
    library = prices.library
    chosen = list(dict.fromkeys(remedies))
    serves: dict[str, list[str]] = {}
    for remedy in chosen:
        for job in prices.jobs_of([remedy]):
            serves.setdefault(job, []).append(remedy)
    for job in all_jobs(library, wished_jobs):
        serves.setdefault(job, []).append(WISH)
    titles = {remedy: prices.remedy(remedy).title for remedy in chosen} | {WISH: "the customer's wish"}
    stages = stages_of(library, serves)
    tries = _tries(library, serves)
    return tuple(
        _planned(library, number, job, stages[job], serves[job], titles, tries.get(job, ()))
        for number, job in enumerate(in_order(library, serves, stages), 1)
    )


def stages_of(library: Library, jobs: Iterable[str]) -> dict[str, Stage]:
    """Tell of each job whether it opens up, closes, or is the work itself.

    A job that has to be followed by another opens; the other closes.
    """
    names = list(jobs)
    closers = {closer for job in names for closer in library.jobs[job].after}
    return {
        job: Stage.CLOSE if job in closers else Stage.OPEN if library.jobs[job].after else Stage.WORK
        for job in names
    }


def in_order(
    library: Library, serves: Mapping[str, list[str]], stages: Mapping[str, Stage]
) -> tuple[str, ...]:
    """Order jobs: needs first, closing last, neighbours together.

    Parameters
    ----------
    library
        What each job needs and what closes it.
    serves
        Each job with the remedies that it is done for.
    stages
        Of each job.

    Raises
    ------
    JobsInARingError
        If jobs need each other in a ring.
    """
    import networkx as nx

    graph = _waits_for(library, serves)
    places = _places(library, serves, stages, graph)
    return tuple(nx.lexicographical_topological_sort(graph, key=places.__getitem__))


def _tries(library: Library, serves: Mapping[str, list[str]]) -> dict[str, tuple[str, ...]]:
    """Name for each trial the work that it tries: that of its remedies; all work if it is the very last."""
    remedies = dict.fromkeys(remedy for row in serves.values() for remedy in row)
    trials = _trials(library, remedies, serves, _waits_for(library, serves))
    trials |= {job for job in serves if library.jobs[job].last}
    return {
        trial: tuple(
            job
            for job, row in serves.items()
            if job not in trials and (library.jobs[trial].last or not set(row).isdisjoint(serves[trial]))
        )
        for trial in trials
    }


def _as_written(library: Library, jobs: Iterable[str]) -> nx.DiGraph:
    """What the catalogue says outright: needs before, closing after."""
    import networkx as nx

    names = list(jobs)
    graph = nx.DiGraph()
    graph.add_nodes_from(names)
    for name in names:
        graph.add_edges_from((need, name) for need in library.jobs[name].needs)
        graph.add_edges_from((name, closer) for closer in library.jobs[name].after)
    return graph


def _waits_for(library: Library, jobs: Mapping[str, list[str]]) -> nx.DiGraph:
    import networkx as nx

    graph = _as_written(library, jobs)
    if not nx.is_directed_acyclic_graph(graph):
        ring = [start for start, _ in nx.find_cycle(graph)]
        first = ring.index(min(ring))
        ring = [*ring[first:], *ring[:first], ring[first]]
        said = " before ".join(f"'{library.jobs[name].title}' ({name})" for name in ring)
        raise JobsInARingError(
            f"These jobs wait for each other: {said}.",
            "Take one out of 'needs:' or 'after:' in the catalogue.",
        )
    written = graph.copy()
    wishes: list[tuple[str, str]] = []
    for opener in jobs:
        wishes += _closing_waits(library, written, opener)
    for remedy in dict.fromkeys(remedy for row in jobs.values() for remedy in row if remedy != WISH):
        listed = library.remedies[remedy].jobs
        wishes += itertools.pairwise(listed)
        for earlier, later in itertools.combinations(listed, 2):
            wishes += _closed_before(library, written, earlier, later)
    for before, after in wishes:
        # A wish that would make a ring gives way to what the catalogue says outright.
        if before != after and not nx.has_path(graph, after, before):
            graph.add_edge(before, after)
    return graph


def _closing_waits(library: Library, written: nx.DiGraph, opener: str) -> list[tuple[str, str]]:
    """What is done behind an opening comes before its closing jobs; several of these keep their order."""
    import networkx as nx

    closers = library.jobs[opener].after
    closing = set(closers).union(*(nx.descendants(written, closer) for closer in closers))
    behind = sorted(nx.descendants(written, opener) - closing)
    return [*((job, closer) for closer in closers for job in behind), *itertools.pairwise(closers)]


def _openings(library: Library, written: nx.DiGraph, job: str) -> list[str]:
    """Return what must be open for a job, itself included if it opens something."""
    import networkx as nx

    return [name for name in sorted({job, *nx.ancestors(written, job)}) if library.jobs[name].after]


def _closed_before(library: Library, written: nx.DiGraph, earlier: str, later: str) -> list[tuple[str, str]]:
    """Of two jobs of one remedy that share no opening, the later one waits until the earlier one's is closed."""
    opened, wanted = _openings(library, written, earlier), _openings(library, written, later)
    if set(opened) & set(wanted):
        return []
    return [
        (closer, job) for name in opened for closer in library.jobs[name].after for job in (*wanted, later)
    ]


def _places(
    library: Library, serves: Mapping[str, list[str]], stages: Mapping[str, Stage], graph: nx.DiGraph
) -> dict[str, tuple[int, ...]]:
    """Place each job among those that could come next.

    By cluster of remedies that share an opening, by remedy in it, closing after the rest, in the order in which
    the catalogue names them; of two closing jobs first the one that closes what was opened last.
    """
    import networkx as nx

    order = {remedy: i for i, remedy in enumerate(dict.fromkeys(r for row in serves.values() for r in row))}
    shared = nx.Graph()
    shared.add_nodes_from(order)
    for job, remedies in serves.items():
        if stages[job] is Stage.OPEN:
            nx.add_path(shared, remedies)
    cluster = {
        remedy: min(order[other] for other in component)
        for component in nx.connected_components(shared)
        for remedy in component
    }
    trials = _trials(library, order, serves, graph)
    opened_by = {closer: number for number, job in enumerate(serves) for closer in library.jobs[job].after}
    places: dict[str, tuple[int, ...]] = {}
    for number, (job, remedies) in enumerate(serves.items()):
        late = len(order) * (2 if library.jobs[job].last else 1 if job in trials else 0)
        ranks = [order[remedy] for remedy in remedies]
        if stages[job] is Stage.CLOSE:
            places[job] = (min(cluster[r] for r in remedies), max(ranks), 1, -opened_by[job], number)
        else:
            places[job] = (late + min(cluster[r] for r in remedies), min(ranks), 0, number, number)
    return places


def _trials(library: Library, remedies: Iterable[str], jobs: Iterable[str], graph: nx.DiGraph) -> set[str]:
    """Return the jobs that end a remedy of several jobs and need nothing open, and what only these need."""
    import networkx as nx

    written = _as_written(library, jobs)
    listed = [library.remedies[remedy].jobs for remedy in remedies if remedy != WISH]
    ends = {row[-1] for row in listed if len(row) > 1 and not _openings(library, written, row[-1])}
    # What other work waits for is no trial.
    trials = {job for job in ends if ends.issuperset(graph.successors(job))}
    named = {job for row in listed for job in row}
    for job in reversed(list(nx.topological_sort(written))):
        waiting = set(written.successors(job))
        if job not in named and waiting and waiting <= trials and not _openings(library, written, job):
            trials.add(job)
    return trials


def _planned(
    library: Library,
    number: int,
    name: str,
    stage: Stage,
    serves: list[str],
    titles: Mapping[str, str],
    tries: tuple[str, ...],
) -> PlannedJob:
    job = library.jobs[name]
    return PlannedJob(
        number=number,
        job=name,
        title=job.title,
        stage=stage,
        minutes=job.minutes,
        expected=float(pert.mean(job.minutes)),
        serves=tuple(serves),
        serves_titles=tuple(titles[remedy] for remedy in serves),
        how=job.how,
        tools=job.tools,
        fasteners=job.fasteners,
        fluids=tuple((use.fluid, use.amount, use.unit) for use in job.fluids),
        caution=job.caution,
        basis=job.basis or "",
        tries=tries,
    )
