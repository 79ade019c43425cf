"""Where things are on the site: pages and the anchors on them. Names hold small letters, digits and dashes only."""

from __future__ import annotations

INDEX = "index.html"
LOOKS = "looks.html"
CAUSES = "causes.html"
JOBS = "jobs.html"
TORQUE = "torque.html"
FLUIDS = "fluids.html"
GLOSSARY = "glossary.html"
SEARCH = "search.html"


def tree_page(symptom: str) -> str:
    """The page of a tree."""
    return f"trees/{symptom}.html"


def drawing_file(symptom: str) -> str:
    """The drawing of a tree, alone."""
    return f"drawings/{symptom}.svg"


def check_anchor(check: str) -> str:
    """The anchor of a question on its tree's page."""
    return f"q-{check}"


def finding_anchor(check: str, answer: str) -> str:
    """The anchor of a finding; a dot parts the names, for no name holds one.

    Examples
    --------
    >>> finding_anchor("lamp", "no")
    'f-lamp.no'
    """
    return f"f-{check}.{answer}"


def answer_anchor(check: str, answer: str) -> str:
    """The anchor of an answer."""
    return f"a-{check}.{answer}"


def entry_anchor(kind: str, name: str) -> str:
    """The anchor of a cause, job, fastener, fluid, quick look or side, by its name.

    Examples
    --------
    >>> entry_anchor("cause", "kettle/scale")
    'cause-kettle.scale'
    """
    return f"{kind}-{name.replace('/', '.')}"


def final_anchor(name: str) -> str:
    """The anchor of a last check on the page of jobs."""
    return f"last-{name}"


def term_anchor(number: int) -> str:
    """The anchor of a term on the page of the glossary; terms hold any letters, so they are numbered."""
    return f"term-{number}"


def from_page(page: str, target: str) -> str:
    """Write the way from a page to a file of the site.

    Examples
    --------
    >>> from_page("trees/no-heat.html", "index.html"), from_page("index.html", "trees/no-heat.html")
    ('../index.html', 'trees/no-heat.html')
    """
    return "../" * page.count("/") + target
