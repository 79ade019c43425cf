"""Drafts to begin with: a tree, a catalogue, a plugin; commented, valid, and the author's to change."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence

from diagtree.clean import clean
from diagtree.errors import ExpectedError
from diagtree.model.words import NAME_PATTERN, name_from


def checked_name(what: str, name: str) -> str:
    """Return a name if it is one.

    Raises
    ------
    ExpectedError
        If it is none.

    Examples
    --------
    >>> checked_name("symptom", "no-heat")
    'no-heat'
    """
    if not re.fullmatch(NAME_PATTERN, name):
        raise ExpectedError(
            f"'{clean(name)}' is not a name for a {what}.",
            "Use small letters, digits and hyphens, a letter first.",
        )
    return name


def quoted(text: str) -> str:
    r"""Put a text in double quotes, so that no letter in it means anything to YAML.

    Examples
    --------
    >>> print(quoted('Check: "tight" #5?'))
    "Check: \"tight\" #5?"
    """
    return json.dumps(clean(text).strip(), ensure_ascii=False)


def tree_draft(symptom: str, title: str, family: str, ask: str, causes: Sequence[str]) -> str:
    """Write a tree with one check that finds some causes.

    Parameters
    ----------
    symptom, title
        The complaint: its name, and what the customer says.
    family
        The family that bare names belong to.
    ask
        The first question.
    causes
        One or more causes, by bare or full name; the counts are shared out evenly.

    Examples
    --------
    >>> print(tree_draft("hums", "It hums", "kettle", "Is it on?", ["scale"]).splitlines()[3])
    symptom: hums
    """
    # One cause twice, or by both of its names, is one cause.
    causes = list(dict.fromkeys(cause.removeprefix(f"{family}/") for cause in causes))
    each, left = divmod(90, len(causes))
    counts = [each + (place < left) for place in range(len(causes))]
    found = ", ".join(f"{cause}: {count}" for cause, count in zip(causes, counts, strict=True))
    ask = ask.strip()
    ask = f"{ask[:1].upper()}{ask[1:].removesuffix('?')}?"
    key = name_from(ask) if re.match(r"[a-z]", name_from(ask)) else "first-look"
    key = "-".join(key.split("-")[:3])
    return f"""\
# A tree: one complaint, the checks that lead from it, and what they find.
# Try it after each change: diagtree proofread THIS-FILE

symptom: {symptom}
title: {quoted(title)}
family: {family}
# What else a customer may call it:
also-called: []
# Where counts and minutes come from: a handbook, common practice, from memory, or invented.
basis: invented

first: {key}
checks:
  {key}:
    ask: {quoted(ask)}
    # How to do it alone. One instruction a sentence.
    how: Say here how it is done.
    minutes: 1
    # How often the answer misleads: sure (2 in 100), fair (7) or rough (15).
    trust: fair
    answers:
      no:
        says: "No"
        # Of 100 with this complaint: how many have which cause and end at this answer?
        found: {{{found}}}
      yes:
        says: "Yes"
        # healthy: this is what a sound part shows. Put "next: another-check" here to ask on.
        found: {{{causes[0]}: 10}}
        healthy: true

# Worked cases: they fail when a later change breaks what you meant.
cases:
  - {{title: The plain one, answers: {{{key}: no}}, expect: {causes[0]}}}
  # One with an answer that misleads, and still comes out right:
  - {{title: Misleading, kind: misleading, answers: {{{key}: yes}}, expect: {causes[0]}}}
"""


def family_draft(family: str, title: str) -> str:
    """Write a catalogue with one part, one cause, one remedy and one job.

    Examples
    --------
    >>> print(family_draft("toaster", "Toaster").splitlines()[3])
    family: toaster
    """
    return f"""\
# A catalogue: what can be wrong in one family of parts, and how it is put right.
# Try it after each change: diagtree proofread THIS-FILE

family: {family}
title: {quoted(title)}
# Where the figures come from, unless an entry says otherwise.
basis: invented

parts:
  # safety: true if people can be hurt when it fails.
  first-part: {{title: The part, price: 10.00, safety: false}}

causes:
  first-cause:
    title: What is wrong with the part
    part: first-part
    # How many of 100 machines that come in have it, whatever they come in for:
    out-of-100: 5
    # unsafe, damage or nuisance: what happens if nothing is done. Unsafe needs a caution.
    risk: nuisance
    why: Say here what happened to it.
    tell: Say here what proves it.
    # From the mildest to the strongest:
    remedies: [first-remedy]

remedies:
  # verdict: leave, clean, adjust, service or replace. holds: how many times out of 100 it does not come back.
  first-remedy:
    title: Clean it
    verdict: clean
    holds: 80
    jobs: [first-job]
    verify: [Say here what must be seen before it is handed over.]

jobs:
  first-job:
    title: Clean it on the bench
    # low, likely, high
    minutes: [2, 4, 8]
    how: [Say here how it is done., One instruction a sentence.]
    tools: [rag]
"""


def plugin_draft(name: str, title: str) -> dict[str, str]:
    """Write a plugin: a distribution of its own with a family, a reading, a tree and tests that pass.

    Parameters
    ----------
    name
        The family's name; the package is called ``diagtree_`` and that.
    title
        What the family is.

    Returns
    -------
    dict
        Each file's text by its path.

    Examples
    --------
    >>> sorted(plugin_draft("toaster", "Toaster"))[0]
    'README.md'
    """
    package = f"diagtree_{name.replace('-', '_')}"
    tree = tree_draft(
        f"{name}-fails"[:40].strip("-"), f"{title} fails", name, "Does the part move freely?", ["first-cause"]
    )
    return {
        "README.md": _README.format(package=package, title=clean(title)),
        "pyproject.toml": _PYPROJECT.format(name=name, package=package),
        f"{package}/__init__.py": _INIT.format(title=clean(title).replace('"', "'")),
        f"{package}/catalogue.yaml": family_draft(name, title),
        f"{package}/readings.py": _READINGS.format(name=name),
        f"{package}/trees/{name}-fails.yaml": tree.replace(_LAST_FINDING, _MEASURED),
        "tests/test_plugin.py": _TESTS.format(name=name, package=package),
    }


_LAST_FINDING = """\
        # healthy: this is what a sound part shows. Put "next: another-check" here to ask on.
        found: {first-cause: 10}
        healthy: true
"""

_MEASURED = """\
        # healthy: this is what a sound part shows.
        next: how-worn
        healthy: true
  how-worn:
    ask: How wide is the part?
    how: Measure it at its narrowest.
    minutes: 2
    # The reading in readings.py turns the width into wear; the answers cover bands in its unit, percent.
    reading: wear
    answers:
      good: {says: Under 20 % worn, below: 20, found: {first-cause: 3}, healthy: true}
      worn: {says: 20 % worn or more, from: 20, found: {first-cause: 7}}
"""

_README = """\
# {title}

A plugin for diagtree. Install it beside diagtree (with that environment active), and test it:

    python -m pip install -e ".[dev]" && python -m pytest

`diagtree proofread {package}` looks over the catalogue and the trees while you write.
"""

_PYPROJECT = """\
[build-system]
requires = ["hatchling>=1.27"]
build-backend = "hatchling.build"

[project]
name = "{package}"
version = "0.1.0"
requires-python = ">=3.11"
dependencies = ["diagtree"]

[project.optional-dependencies]
dev = ["pytest>=8.2"]

[project.entry-points.diagtree]
{name} = "{package}"

[tool.hatch.build.targets.wheel]
packages = ["{package}"]
"""

_INIT = '''\
"""{title}: what this plugin offers."""

from importlib.resources import files
from importlib.resources.abc import Traversable

from diagtree.library.hookspecs import hookimpl
from diagtree.library.offers import files_of
from diagtree.model.reading import Reading


@hookimpl
def diagtree_families() -> list[Traversable]:
    """Offer the catalogue."""
    return files_of(__name__, "catalogue.yaml")


@hookimpl
def diagtree_tree_folders() -> list[Traversable]:
    """Offer the trees."""
    return [files(__name__) / "trees"]


@hookimpl
def diagtree_readings() -> list[Reading]:
    """Offer the readings that need arithmetic."""
    from .readings import READINGS

    return READINGS
'''

_READINGS = '''\
"""Readings that need arithmetic: what was entered becomes a value with a unit."""

from decimal import Decimal

from diagtree.errors import ExpectedError
from diagtree.model.reading import Measured, Reading
from diagtree.units import value_in

NEW = Decimal("20.0")
"""Width of a new part, mm."""


def read_wear(text: str) -> Measured:
    """Turn a measured width into wear, in percent of a new part.

    Examples
    --------
    >>> read_wear("19 mm").value
    Decimal('5.00')
    """
    width = value_in(text, "mm")
    if width > NEW:
        raise ExpectedError(f"{{width}} mm is wider than a new part.", "Measure again.")
    wear = ((NEW - width) / NEW * 100).quantize(Decimal("0.01"))
    return Measured(wear, f"{{wear}} % worn", "That is nearly all of it. Sure?" if wear > 90 else None)


READINGS = [
    Reading("{name}/wear", "Wear of the part", "%", "19 mm", read_wear, "computed from the width of a new part"),
]
'''

_TESTS = '''\
"""The plugin holds together: it loads without a problem, and its worked cases come out as they should."""

import {package} as plugin
import pytest
from {package}.readings import READINGS

from diagtree import testing
from diagtree.errors import ExpectedError


@pytest.fixture(scope="module")
def library():
    return testing.library_of({{"{name}": plugin}})


def test_nothing_is_left_out(library):
    testing.assert_nothing_left_out(library)
    assert "{name}" in library.families


def test_the_worked_cases_of_each_tree_hold(library):
    assert library.trees
    for symptom in library.trees:
        testing.assert_cases_hold(library, symptom)


def test_each_reading_takes_its_own_example():
    for reading in READINGS:
        assert reading.read(reading.example).says


def test_a_reading_says_what_to_do_with_nonsense():
    for reading in READINGS:
        with pytest.raises(ExpectedError):
            reading.read("a lot")
'''
