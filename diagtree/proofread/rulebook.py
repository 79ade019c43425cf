"""The rulebook: all rules, built in or brought by plugins, and the page of each."""

from __future__ import annotations

import pkgutil
import re
import textwrap
from collections.abc import Iterator
from dataclasses import dataclass, replace
from importlib import import_module
from pathlib import Path

from diagtree.errors import in_words
from diagtree.library.fault import Fault
from diagtree.library.library import Problem
from diagtree.library.offers import Rule
from diagtree.library.plugins import Plugins
from diagtree.proofread import rules as _rules
from diagtree.proofread.edits import Edit
from diagtree.proofread.manuscript import Manuscript


@dataclass(frozen=True, slots=True)
class Page:
    """A rule's page, taken apart.

    Parameters
    ----------
    summary
        What it finds, a sentence.
    why
        Why it matters.
    wrong
        A file with the fault.
    told
        What is told of it, line by line.
    right
        The file without the fault.
    """

    summary: str
    why: str
    wrong: str
    told: tuple[str, ...]
    right: str


def built_in() -> Iterator[Rule]:
    """Yield the rules that come with the program, in order of their names.

    Examples
    --------
    >>> rules = {rule.name: rule.group for rule in built_in()}
    >>> rules["loop"], rules["question-without-mark"], len(rules) >= 40
    ('structure', 'wording', True)
    """
    for found in sorted(pkgutil.iter_modules(_rules.__path__), key=lambda module: module.name):
        module = import_module(f"{_rules.__name__}.{found.name}")
        yield Rule(
            name=found.name.replace("_", "-"),
            page=module.__doc__ or "",
            finds=module.finds,
            group=module.GROUP,
            kinds=module.KINDS,
            mends=getattr(module, "mends", None),
        )


def rulebook(plugins: Plugins | None = None) -> list[Rule]:
    """List the built-in rules and those of plugins; a name that is taken is a problem of the plugin."""
    rules = list(built_in())
    names = {rule.name for rule in rules}
    wants = "rules (diagtree.library.offers.Rule)"
    for plugin, rule in plugins.ask("diagtree_proofreading_rules", Rule, wants) if plugins else ():
        if rule.name in names:
            told = f"the rule '{rule.name}' is there already. Choose another name."
            plugins.problems.append(Problem(f"plugin '{plugin}'", told))  # type: ignore[union-attr]
        else:
            names.add(rule.name)
            rules.append(_held(rule, plugin, plugins))  # type: ignore[arg-type]
    return rules


def _held(rule: Rule, plugin: str, plugins: Plugins) -> Rule:
    """Hold a plugin's rule to what it promises: where it fails, that is told and all other rules work."""

    def finds(manuscript: Manuscript) -> Iterator[Fault]:
        told = ""
        try:
            for fault in rule.finds(manuscript):
                if isinstance(fault, Fault):
                    yield fault
                else:
                    told = f"it yields {type(fault).__name__}, not faults (manuscript.fault)"
        except Exception as error:  # a plugin may raise anything
            told = in_words(error)
        if told:
            text = f"This rule of plugin '{plugin}' failed: {told}."
            yield manuscript.fault((), text, f"Mend the plugin, or leave it out with --block {plugin}.")

    def mends(manuscript: Manuscript) -> list[Edit]:
        try:
            edits = list(rule.mends(manuscript)) if rule.mends else []
            odd = [type(edit).__name__ for edit in edits if not isinstance(edit, Edit)]
            told = f"it yields {odd[0]}, not edits" if odd else ""
        except Exception as error:  # as above
            told = in_words(error)
        if not told:
            return edits
        text = f"its rule '{rule.name}' cannot mend {manuscript.document.file}: {told}. Mend the plugin."
        plugins.problems.append(Problem(f"plugin '{plugin}'", text))
        return []

    return replace(rule, finds=finds, mends=mends if rule.mends else None)


_PARTS = re.compile(
    r"^(?P<summary>[^\n]+)\n\n(?P<why>.*?)\n*Wrong::\n\n(?P<wrong>.*?)\nTold::\n\n(?P<told>.*?)\nRight::\n\n(?P<right>.*)$",
    re.DOTALL,
)


def page_of(rule: Rule) -> Page:
    """Take a rule's page apart.

    Raises
    ------
    ValueError
        If a part is missing: a rule shows a wrong and a right sample, and what is told.
    """
    lines = rule.page.strip("\n").split("\n")
    text = "\n".join([lines[0], textwrap.dedent("\n".join(lines[1:]))])
    match = _PARTS.match(text)
    if match is None:
        raise ValueError(
            f"the page of rule '{rule.name}' lacks a part: summary, why, Wrong::, Told::, Right::"
        )
    return Page(
        summary=match["summary"].strip(),
        why=match["why"].strip(),
        wrong=textwrap.dedent(match["wrong"]).strip("\n") + "\n",
        told=tuple(line.strip() for line in match["told"].strip().split("\n")),
        right=textwrap.dedent(match["right"]).strip("\n") + "\n",
    )


def page_in_markdown(rule: Rule) -> str:
    """Write a rule's page for the docs.

    Examples
    --------
    >>> page_in_markdown(next(rule for rule in built_in() if rule.name == "loop")).splitlines()[0]
    '# loop'
    """
    page = page_of(rule)
    mends = "`diagtree proofread --fix` mends it.\n\n" if rule.mends else ""
    told = "\n".join(page.told)
    return (
        f"# {rule.name}\n\n{page.summary}\n\n{page.why}\n\n{mends}"
        f"Chapter: {rule.group}. Proofreads: {', '.join(rule.kinds)}.\n\n"
        f"## Wrong\n\n```yml\n{page.wrong}```\n\n```text\n{told}\n```\n\n## Right\n\n```yml\n{page.right}```\n"
    )


def contents_in_markdown(rules: list[Rule]) -> str:
    """Write the list of all rules for the docs, chapter by chapter."""
    lines = [
        "# Proofreading rules",
        "",
        "`diagtree proofread PATH` looks for these. Each page has a wrong and a right sample.",
        "",
    ]
    for group in sorted({rule.group for rule in rules}):
        lines += [f"## {group.capitalize()}", ""]
        lines += [
            f"- [{rule.name}]({rule.name}.md): {page_of(rule).summary}"
            for rule in sorted(rules, key=lambda one: one.name)
            if rule.group == group
        ]
        lines.append("")
    return "\n".join(lines)


def write_pages(folder: Path, plugins: Plugins | None = None) -> None:
    """Write the page of every rule, built in or brought by plugins, and their list, into a folder of the docs."""
    rules = rulebook(plugins)
    folder.mkdir(parents=True, exist_ok=True)
    for rule in rules:
        (folder / f"{rule.name}.md").write_text(page_in_markdown(rule), encoding="utf-8")
    (folder / "README.md").write_text(contents_in_markdown(rules), encoding="utf-8")
