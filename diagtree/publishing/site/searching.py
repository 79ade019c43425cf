"""What the search of the site finds: one entry for each thing that has a place of its own."""

from __future__ import annotations

from collections.abc import Iterator

from diagtree.clean import clean
from diagtree.drawing.diagram import check_box
from diagtree.library.library import Library
from diagtree.publishing.entries import family_title, sorted_glossary
from diagtree.publishing.site import places

Entry = tuple[str, str, str, str]
"""Kind, title, place from the site's root, further words."""


def entries(library: Library, headings: dict[str, dict[str, str]]) -> list[Entry]:
    """List all that can be found.

    Parameters
    ----------
    library
        Everything that is known.
    headings
        For each symptom, the heading of each box of its drawing.

    Returns
    -------
    list
        In the order in which equal matches are shown.
    """
    return [
        (kind, clean(title), place, clean(" ".join(words.split())))
        for kind, title, place, words in _all(library, headings)
    ]


def _all(library: Library, headings: dict[str, dict[str, str]]) -> Iterator[Entry]:
    for symptom, tree in library.trees.items():
        page = places.tree_page(symptom)
        yield "Complaint", tree.title, page, " ".join((*tree.also_called, family_title(library, tree.family)))
    for name, cause in library.causes.items():
        part = library.parts.get(cause.part or "")
        words = [part.title if part else "", cause.why, cause.tell or "", family_title(library, name)]
        words += [library.remedies[one].title for one in cause.remedies if one in library.remedies]
        yield "Cause", cause.title, f"{places.CAUSES}#{places.entry_anchor('cause', name)}", " ".join(words)
    for name, fastener in library.fasteners.items():
        words = [fastener.thread, fastener.side or "", fastener.preparation, family_title(library, name)]
        yield (
            "Fastener",
            fastener.title,
            f"{places.TORQUE}#{places.entry_anchor('fastener', name)}",
            " ".join(words),
        )
    for name, fluid in library.fluids.items():
        words = [fluid.kind.value, fluid.colour or "", *fluid.never_on, family_title(library, name)]
        yield "Fluid", fluid.title, f"{places.FLUIDS}#{places.entry_anchor('fluid', name)}", " ".join(words)
    for name, job in library.jobs.items():
        words = [*job.how, *job.tools, family_title(library, name)]
        yield "Job", job.title, f"{places.JOBS}#{places.entry_anchor('job', name)}", " ".join(words)
    for name, look in library.looks.items():
        words = [*look.how, *(answer.says for answer in look.answers.values())]
        yield "Quick look", look.ask, f"{places.LOOKS}#{places.entry_anchor('look', name)}", " ".join(words)
    for name, check in library.final_checks.items():
        yield "Last check", check.title, f"{places.JOBS}#{places.final_anchor(name)}", " ".join(check.how)
    for number, (term, meaning) in enumerate(sorted_glossary(library), 1):
        yield "Term", term, f"{places.GLOSSARY}#{places.term_anchor(number)}", meaning
    for symptom, tree in library.trees.items():
        page = places.tree_page(symptom)
        for name, question in tree.checks.items():
            words = [headings[symptom][check_box(name)], tree.title, *question.how]
            words += [answer.says for answer in question.answers.values()]
            yield "Question", question.ask, f"{page}#{places.check_anchor(name)}", " ".join(words)
