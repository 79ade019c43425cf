"""Walk from a complaint to a job sheet."""

from __future__ import annotations

import argparse
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from diagtree.case.log import Log
    from diagtree.case.walker import Walker
    from diagtree.library.library import Library
    from diagtree.model.workshop import Workshop
    from diagtree.screens.bench.papers import Papers
    from diagtree.screens.line_unattended import Answers

EXAMPLES = """\
  diagtree diagnose                                  choose the complaint by what the customer says
  diagtree diagnose SYMPTOM                          start with a complaint
  diagtree diagnose SYMPTOM SYMPTOM                  several at once
  diagtree diagnose SYMPTOM --case blue.case         keep it in this file; the same again takes it up
  diagtree diagnose --plain                          plain lines, for screen readers and slow links
  diagtree diagnose --answers blue.yaml --no-input --json     unattended, for programs
"""

ORDERS = ("guided", "shortest")


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """Describe the command's arguments."""
    from diagtree.commands.common import add_library_arguments, add_workshop_arguments

    parser.add_argument(
        "symptom", metavar="SYMPTOM", nargs="*", help="the complaints; none: choose them first"
    )
    case = parser.add_argument_group("case")
    case.add_argument(
        "--case",
        metavar="FILE",
        help="keep the case in this file; if it is there, take it up again. The name of a kept case does as well",
    )
    case.add_argument(
        "--label", metavar="TEXT", default="", help="what the machine is called in the workshop"
    )
    case.add_argument(
        "--brief", choices=("roadworthy", "service", "full"), default="",
        help="how much is to be done; by default what the workshop file says",
    )  # fmt: skip
    case.add_argument(
        "--order", choices=ORDERS,
        help="guided: the author's order, with what is settled left out; shortest: first what leads "
        "to a finding soonest, over all complaints",
    )  # fmt: skip
    face = parser.add_argument_group("face")
    face.add_argument("--plain", action="store_true", help="plain lines in place of the full screen")
    face.add_argument("--answers", metavar="FILE", help="take the answers from this file")
    face.add_argument(
        "--no-input", action="store_true", help="ask nobody: a missing answer is an error that names it"
    )
    sheet = parser.add_argument_group("sheet")
    sheet.add_argument("--json", action="store_true", help="print the result as JSON")
    sheet.add_argument(
        "--to", metavar="FILE", help="write the sheet here; its end says the form (.txt .md .html .pdf .json)"
    )
    sheet.add_argument("--force", action="store_true", help="write over a file that is there")
    add_workshop_arguments(sheet)
    add_library_arguments(parser)


def run(options: argparse.Namespace) -> int:
    """Walk, then print the sheet; return the exit status."""
    from diagtree.case.saving import check_free
    from diagtree.case.walker import Walker
    from diagtree.commands.common import library_from, workshop_from
    from diagtree.commands.outgoing import put_out, writer_from
    from diagtree.screens.line_unattended import Answers, read_answers

    # Before the first question: nobody should answer twenty of them to learn that the sheet has no place.
    target = Path(options.to) if options.to else None
    writer = writer_from(options, target) if target else None
    if target is not None:
        check_free(target, force=options.force)
    library = library_from(options)
    for symptom in options.symptom:
        _known(library, symptom)
    workshop = workshop_from(options, library)
    answers = read_answers(Path(options.answers), library) if options.answers else None
    if options.no_input and answers is None:
        answers = Answers()
    complaints = [*options.symptom, *(answers.complaints if answers else ())]
    label: str = options.label or (answers.label if answers else "") or ""
    brief: str = options.brief or (answers.brief if answers else "") or ""
    with _log(options, label or " ".join(complaints[:1])) as log:
        walker = Walker(library, log.log, options.order, complaints=complaints, label=label, brief=brief)
        log.settle(walker, complaints, label, brief)
        status = _walk(walker, options, answers, workshop, log)
        if not walker.finished:
            log.discard_if_empty(walker)
            return status
        from diagtree.sheets.from_case import paper_of_case

        paper = paper_of_case("job", walker.view, workshop)
        if writer is not None:
            put_out(writer.write(paper), target, force=options.force)
        if options.json or writer is None:
            put_out(writer_from(options, None, "json" if options.json else "text").write(paper), None)
        resume = log.resume(walker)
        if resume:
            print(f"The case is kept. To go on with it: {resume}", file=sys.stderr)
            print(f"Its papers again: {log.papers_again()}", file=sys.stderr)
        return status


def _known(library: Library, symptom: str) -> None:
    """Refuse a name that no complaint has, with those that sound like it and the way to find it by words.

    Raises
    ------
    diagtree.errors.ExpectedError
        If the library has no such complaint.
    """
    from diagtree.commands.common import program
    from diagtree.errors import ExpectedError, UnknownNameError
    from diagtree.screens.words import sounding_like

    try:
        library.tree(symptom)
    except UnknownNameError as error:
        if error.near:
            raise
        alike = " or ".join(f"'{name}'" for name in sounding_like(library, symptom)[:3])
        guess = f"Did you mean {alike}? " if alike else ""
        raise ExpectedError(
            f"There is no symptom '{symptom}'.",
            f"{guess}To choose by what the customer says: {program()} diagnose",
        ) from None


class _Kept:
    """Where the case is kept while the command runs."""

    def __init__(self, log: Log, path: Path | None, fresh: bool, called: str | None = None) -> None:
        self.log = log
        self.path = path
        self.fresh = fresh
        self._called = called
        """The label or complaint that the file is called after; None if a person gave its name."""

    def __enter__(self) -> _Kept:
        return self

    def __exit__(self, *_: object) -> None:
        close = getattr(self.log, "close", None)
        if close is not None:
            close()

    def discard_if_empty(self, walker: Walker) -> None:
        """Leave no file behind where nothing was entered."""
        discard = getattr(self.log, "discard", None)
        if self.fresh and discard is not None and walker.case.count <= 1:
            discard()

    def settle_name(self, walker: Walker) -> None:
        """Call the file after the label or the complaint, where those came after it was begun."""
        from diagtree.case.folder import new_path
        from diagtree.case.journal import Journal

        case = walker.case
        name = case.label or " ".join(case.complaints[:1])
        if self._called in {None, name} or self.path is None or not isinstance(self.log, Journal):
            return
        self._called = name
        if self.log.rename(new_path(self.path.parent, case.opened, name)):
            self.path = self.log.path

    def resume(self, walker: Walker) -> str:
        """Tell the command that takes the case up again."""
        from diagtree.commands.common import program

        self.settle_name(walker)
        return f"{program()} diagnose --case {self._typed()}" if self.path else ""

    def papers_again(self) -> str:
        """Tell the command that writes the case's papers."""
        from diagtree.commands.common import program

        return f"{program()} sheet {self._typed()} --to sheet.pdf"

    def _typed(self) -> str:
        import shlex

        from diagtree.case.folder import called, cases_folder

        return shlex.quote(called(self.path, cases_folder(os.environ))) if self.path else ""

    def settle(self, walker: Walker, complaints: list[str], label: str, brief: str) -> None:
        """Bring what the command line says into a case that is taken up again."""
        if self.fresh:
            return
        for notice in getattr(self.log, "notices", ()):
            print(f"diagtree: {notice}", file=sys.stderr)
        missing = [symptom for symptom in complaints if symptom not in walker.case.complaints]
        if missing:
            walker.choose([*walker.case.complaints, *missing])
        if (label and label != walker.case.label) or (brief and brief != walker.case.brief):
            walker.label(label or walker.case.label, brief)


def _log(options: argparse.Namespace, name: str) -> _Kept:
    """Open the case's journal before the first question, so that a folder that cannot be written is told."""
    from diagtree.case.folder import cases_folder, chosen, new_path
    from diagtree.case.journal import Journal
    from diagtree.case.keeper import now
    from diagtree.case.log import MemoryLog

    if options.case:
        path = chosen(options.case, cases_folder(os.environ))
        if path.exists():
            return _Kept(Journal.open(path), path, fresh=False)
        return _Kept(Journal.create(path), path, fresh=True)
    if options.no_input:
        # The answers are in a file already: there is nothing to lose.
        return _Kept(MemoryLog(), None, fresh=True)
    path = new_path(cases_folder(os.environ), now(), name)
    return _Kept(Journal.create(path), path, fresh=True, called=name)


def _walk(
    walker: Walker, options: argparse.Namespace, answers: Answers | None, workshop: Workshop, log: _Kept
) -> int:
    from diagtree.screens.bench.terminal import fits_terminal
    from diagtree.screens.line_unattended import MissingAnswerError, run_unattended

    if answers is not None:
        try:
            for unused in run_unattended(walker, answers).unused:
                print(f"diagtree: not asked, so not used: {unused}", file=sys.stderr)
        except MissingAnswerError:
            if options.no_input:
                raise
        else:
            return 0
    if not options.plain and fits_terminal(sys.stdin, sys.stdout):
        from diagtree.screens.bench import run_bench

        result = run_bench(walker, workshop=workshop, papers=_papers(walker, workshop, log))
        if not walker.finished and walker.case.count > 1 and log.path:
            print(f"Saved. To go on: {log.resume(walker)}", file=sys.stderr)
        return result.exit_code
    from diagtree.screens.line import LineMode

    return LineMode(
        walker,
        workshop=workshop,
        resume=lambda: log.resume(walker),
        sink=sys.stderr if options.json else sys.stdout,
    ).run()


def _papers(walker: Walker, workshop: Workshop, log: _Kept) -> Papers:
    from diagtree.case.saving import save
    from diagtree.screens.bench.papers import Papers

    def write(kind: str) -> str:
        from diagtree.sheets.from_case import paper_of_case
        from diagtree.sheets.pdf import write_pdf

        log.settle_name(walker)
        # The case's own name: the papers of two machines never take each other's place.
        stem = log.path.stem if log.path else "case"
        path = Path(f"{stem}-{kind}.pdf")
        save(path, write_pdf(paper_of_case(kind, walker.view, workshop)), force=True)
        return str(path.resolve())

    return Papers(write)
