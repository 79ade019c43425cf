"""Makes all pages of the site: what is on each, by its place."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from decimal import Decimal
from itertools import groupby

from diagtree.drawing.diagram import drawing_of
from diagtree.library.library import Library
from diagtree.publishing.entries import (
    RISKS,
    FastenerEntry,
    by_family,
    family_title,
    fastener_entry,
    fasteners_of,
    fluid_entry,
    minutes_text,
    sorted_causes,
    sorted_glossary,
    trees_by_family,
)
from diagtree.publishing.looks import sides
from diagtree.publishing.site import places
from diagtree.publishing.site.picture import picture_of
from diagtree.publishing.site.searching import entries
from diagtree.publishing.site.setting import Setter
from diagtree.publishing.site.tree_facts import tree_facts
from diagtree.sheets.figures import Sources

Told = Callable[[int, int], None]


@dataclass(frozen=True, slots=True)
class CauseLine:
    """A cause in the index: where it is found, with its count out of 100."""

    anchor: str
    title: str
    part: str
    family: str
    risk: str
    unsafe: bool
    found: tuple[tuple[str, str, Decimal], ...]


@dataclass(frozen=True, slots=True)
class JobEntry:
    """How a piece of work is done."""

    anchor: str
    title: str
    minutes: str
    mark: str
    tools: tuple[str, ...]
    caution: tuple[str, ...]
    how: tuple[str, ...]
    needs: tuple[tuple[str, str], ...]
    after: tuple[tuple[str, str], ...]
    fasteners: tuple[FastenerEntry, ...]
    fluids: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class SystemLine:
    """A closed system and what goes into it."""

    title: str
    takes: tuple[tuple[str, str], ...]
    read: str
    basis: str


@dataclass(frozen=True, slots=True)
class TreeLine:
    """A complaint in the list."""

    page: str
    title: str
    questions: int
    minutes: str


def site_pages(library: Library, told: Told | None = None) -> dict[str, bytes]:
    """Make the site.

    Parameters
    ----------
    library
        What it tells.
    told
        Called with how many trees are done, of how many.

    Returns
    -------
    dict
        For each file its place on the site and what it holds; the same for the same library.
    """
    from diagtree.library.workshop_file import default_workshop
    from diagtree.work.prices import Prices

    setter = Setter(library.machine)
    prices = Prices(library, default_workshop())
    made: dict[str, bytes] = {}
    headings: dict[str, dict[str, str]] = {}
    lines: dict[str, TreeLine] = {}
    for done, (symptom, tree) in enumerate(library.trees.items()):
        if told is not None:
            told(done, len(library.trees))
        drawing = drawing_of(library, symptom)
        facts = tree_facts(library, drawing, prices)
        picture = picture_of(tree, drawing)
        page, alone = places.tree_page(symptom), places.drawing_file(symptom)
        made[page] = setter.page(
            "tree.html",
            page,
            tree=facts,
            family=family_title(library, tree.family),
            picture=picture,
            drawing_file=alone,
        )
        made[alone] = setter.drawing(picture=picture, page=f"../{page}", title=tree.title)
        headings[symptom] = {box.name: box.heading for box in drawing.boxes}
        lines[symptom] = TreeLine(page, tree.title, len(facts.questions), facts.minutes)
    groups = [
        (family_title(library, family), [lines[symptom] for symptom in symptoms])
        for family, symptoms in trees_by_family(library)
    ]
    made[places.INDEX] = setter.page("index.html", places.INDEX, groups=groups, cautions=library.cautions)
    sources = Sources()
    made[places.LOOKS] = setter.page(
        "looks.html", places.LOOKS, sides=sides(library, sources), bases=sources.lines()
    )
    made[places.CAUSES] = _causes(library, setter)
    made[places.JOBS] = _jobs(library, setter)
    made[places.TORQUE] = setter.page(
        "torque.html",
        places.TORQUE,
        groups=_grouped(library, library.fasteners, lambda name: fastener_entry(library, name)),
    )
    made[places.FLUIDS] = setter.page(
        "fluids.html",
        places.FLUIDS,
        groups=_grouped(library, library.fluids, lambda name: fluid_entry(library, name)),
        systems=list(_systems(library)),
    )
    made[places.GLOSSARY] = setter.page(
        "glossary.html",
        places.GLOSSARY,
        terms=sorted_glossary(library),
    )
    made[places.SEARCH] = setter.page("search.html", places.SEARCH, entries=entries(library, headings))
    return made


def _grouped(
    library: Library, names: Iterable[str], entry: Callable[[str], object]
) -> list[tuple[str, str, list[object]]]:
    return [
        (family_title(library, family), f"family-{family}", [entry(name) for name in found])
        for family, found in by_family(library, names)
    ]


def _causes(library: Library, setter: Setter) -> bytes:
    sources = Sources()
    counts: dict[str, dict[str, Decimal]] = {}
    for symptom, tree in library.trees.items():
        sources.mark(tree.basis)
        for check in tree.checks.values():
            for answer in check.answers.values():
                for cause, count in (answer.found or {}).items():
                    behind = counts.setdefault(cause, {})
                    behind[symptom] = behind.get(symptom, Decimal(0)) + count
    rows = [
        CauseLine(
            anchor=places.entry_anchor("cause", name),
            title=cause.title,
            part=library.parts[cause.part].title if cause.part and cause.part in library.parts else "",
            family=family_title(library, name),
            risk=RISKS[cause.risk],
            unsafe=cause.risk.value == "unsafe",
            found=tuple(
                (
                    f"{places.tree_page(symptom)}#{places.entry_anchor('cause', name)}",
                    library.trees[symptom].title,
                    count,
                )
                for symptom, count in counts.get(name, {}).items()
            ),
        )
        for name, cause in sorted_causes(library)
    ]
    letters = [
        (letter, list(found)) for letter, found in groupby(rows, key=lambda row: row.title[:1].upper())
    ]
    return setter.page("causes.html", places.CAUSES, letters=letters, count=len(rows), bases=sources.lines())


def _jobs(library: Library, setter: Setter) -> bytes:
    sources = Sources()

    def linked(names: Iterable[str]) -> tuple[tuple[str, str], ...]:
        return tuple(
            (places.entry_anchor("job", name), library.jobs[name].title)
            for name in names
            if name in library.jobs
        )

    def entry(name: str) -> JobEntry:
        job = library.jobs[name]
        return JobEntry(
            anchor=places.entry_anchor("job", name),
            title=job.title,
            minutes=minutes_text(job.minutes),
            mark=sources.mark(job.basis),
            tools=job.tools,
            caution=job.caution,
            how=job.how,
            needs=linked(job.needs),
            after=linked(job.after),
            fasteners=tuple(fastener_entry(library, one) for one in fasteners_of(library, [name])),
            fluids=tuple(
                (places.entry_anchor("fluid", use.fluid), library.fluids[use.fluid].title)
                for use in job.fluids
                if use.fluid in library.fluids
            ),
        )

    groups = _grouped(library, library.jobs, entry)
    return setter.page(
        "jobs.html",
        places.JOBS,
        groups=groups,
        final_checks=[(places.final_anchor(name), check) for name, check in library.final_checks.items()],
        bases=sources.lines(),
    )


def _systems(library: Library) -> Iterator[SystemLine]:
    for system in library.systems.values():
        yield SystemLine(
            system.title,
            tuple(
                (places.entry_anchor("fluid", name), library.fluids[name].title)
                for name in system.takes
                if name in library.fluids
            ),
            system.read,
            system.basis or "",
        )
