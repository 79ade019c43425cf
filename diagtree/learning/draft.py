"""A draft that can be walked at once: what is missing is bridged, and told where the walk comes to it."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from diagtree.errors import ExpectedError
from diagtree.learning.mending import Mended, mended
from diagtree.library.assembly import Assembly
from diagtree.library.document import read_document
from diagtree.library.fault import Fault, FaultyFileError
from diagtree.library.library import Library, full_name
from diagtree.library.loading import OWN, collected
from diagtree.library.plugins import Plugins
from diagtree.library.references import mapping
from diagtree.library.sheet import Sheet
from diagtree.library.sources import bytes_of, read_source, shown
from diagtree.library.validation import validated
from diagtree.model.family import Cause, Family, Remedy
from diagtree.model.tree import Tree

MOST_ROUNDS = 200
"""So many faulty values are taken out of a draft before it is given up."""

UNWRITTEN = "not-written-yet"
"""The bare name of the remedy of causes that nobody has written yet."""


@dataclass(frozen=True)
class Draft:
    """A tree that is being written, ready to be walked.

    Parameters
    ----------
    symptom
        The complaint.
    library
        The library with the draft in it. What the draft lacks is bridged: a cause that is in no catalogue has a
        stand-in, an answer that leads nowhere ends at a stand-in cause and says in its note what is missing.
    faults
        What is wrong with the file, in order.
    faults_beside
        What is wrong with the catalogues and conditions in its folder.
    """

    symptom: str
    library: Library
    faults: tuple[Fault, ...]
    faults_beside: tuple[Fault, ...] = ()


def read_draft(path: Path, plugins: Plugins, folders: Iterable[Path] = ()) -> Draft:
    """Read a draft beside the library; its own folder's catalogues and conditions count too.

    Parameters
    ----------
    path
        The draft's file.
    plugins
        The plugins whose library it stands in.
    folders
        Own folders.

    Raises
    ------
    ExpectedError
        If there is no such file, or it is no tree.
    FaultyFileError
        If nothing in it can be walked: it is no YAML, or has no check.
    """
    if not path.is_file():
        raise ExpectedError(f"There is no file '{path}'.", "Look at its name again.")
    beside = list(catalogues_beside(path))
    together = collected(plugins, [*folders, *beside, path])
    assembly = together.put_together()
    sheet = _sheet_of(assembly, path)
    if sheet.source.document.data is None:
        raise FaultyFileError(sheet.source.document.faults)
    if sheet.source.model is not Tree:
        raise ExpectedError(
            f"'{path}' is not a tree, so there is nothing to walk.", "A tree begins with 'symptom:'."
        )
    faults = tuple(sorted(set(sheet.faults)))
    names = {shown(file) for file in beside}
    others = tuple(sorted(fault for fault in set(assembly.faults) if fault.file in names))
    library = assembly.library
    if isinstance(sheet.model, Tree):
        # A later file may have the same name; the draft is what is to be walked.
        return Draft(sheet.model.symptom, _with_tree(library, sheet.model, {}), faults, others)
    patched = mended(sheet.source.document, faults, library, _faulty_causes(assembly))
    tree = _built(patched, faults, path)
    return Draft(tree.symptom, _with_tree(library, tree, _stand_ins(patched)), faults, others)


def _faulty_causes(assembly: Assembly) -> dict[str, str]:
    """Say for each cause that a catalogue has and the library has not what is wrong with it."""
    told: dict[str, str] = {}
    for sheet in assembly.sheets:
        if sheet.source.model is not Family:
            continue
        for bare in mapping(sheet.data.get("causes")):
            name = full_name(str(sheet.data.get("family")), bare)
            if name in assembly.library.causes:
                continue
            own = [str(fault) for fault in sorted(set(sheet.faults)) if fault.at[:2] == ("causes", bare)]
            needs = (
                f"something that it needs has a fault. See: diagtree proofread {sheet.source.document.file}"
            )
            told[name] = f"The cause '{bare}' has a fault: {own[0] if own else needs}"
    return told


def catalogues_beside(path: Path) -> Iterator[Path]:
    """Yield the catalogues and conditions in a file's own folder."""
    for beside in sorted([*path.parent.glob("*.yaml"), *path.parent.glob("*.yml")]):
        if beside.name == path.name or not beside.is_file():
            continue
        try:
            source = read_source(bytes_of(beside), str(beside), OWN)
        except OSError:
            continue
        if source.model is not None and source.model is not Tree:
            yield beside


def _sheet_of(assembly: Assembly, path: Path) -> Sheet:
    wanted = path.resolve()
    found = [sheet for sheet in assembly.sheets if Path(sheet.source.document.file).resolve() == wanted]
    if not found:
        raise ExpectedError(f"The file '{path}' cannot be read.", "Look at who may read it.")
    return found[-1]


def _built(patched: Mended, faults: tuple[Fault, ...], path: Path) -> Tree:
    """Build the model; what it still refuses is taken out, value by value."""
    for _ in range(MOST_ROUNDS):
        # The paths of new complaints are looked up in what is validated, so it is read as a file of its own.
        document = read_document(json.dumps(patched.data).encode(), str(path))
        tree, refused = validated(Tree, document)
        if tree is not None:
            return tree
        if not [patched.take_out(fault.at) for fault in refused if fault.at]:
            break
        patched.fill()
    raise FaultyFileError(faults)


def _stand_ins(patched: Mended) -> Mapping[str, Cause]:
    home = patched.home
    return {
        name: Cause.model_validate(
            {
                "title": title,
                "out_of_100": 1,
                "risk": "nuisance",
                "why": "Nobody has written this cause yet.",
                "remedies": [f"{home}/{UNWRITTEN}"],
            }
        )
        for name, title in patched.stand_ins.items()
    }


def _with_tree(library: Library, tree: Tree, stand_ins: Mapping[str, Cause]) -> Library:
    library = library.with_tree(tree)
    if not stand_ins:
        return library
    remedy = Remedy.model_validate({"title": "Not written yet", "verdict": "leave", "holds": 0})
    return replace(
        library,
        causes={**library.causes, **stand_ins},
        remedies={**library.remedies, f"{tree.family}/{UNWRITTEN}": remedy},
    )
