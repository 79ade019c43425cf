"""Errors that are expected: a person can mend them, so they come with what is wrong and what to do."""

from __future__ import annotations

from collections.abc import Iterable


class ExpectedError(Exception):
    """Something that the user can put right; never shown as a traceback.

    Parameters
    ----------
    wrong
        What is wrong, naming the thing, in the user's words.
    mend
        What to do about it: one short sentence, or an empty text.
    exit_code
        The status that the program leaves with: 1 faults found, 2 usage or missing answer, 3 case
        unfinished but saved, 4 damaged file, 5 case open elsewhere, 6 cannot write.

    Examples
    --------
    >>> print(ExpectedError("There is no symptom 'no-hea'.", "Did you mean 'no-heat'?"))
    There is no symptom 'no-hea'. Did you mean 'no-heat'?
    """

    exit_code = 2

    def __init__(self, wrong: str, mend: str = "", *, exit_code: int | None = None) -> None:
        super().__init__(f"{wrong} {mend}".strip())
        self.wrong = wrong
        self.mend = mend
        if exit_code is not None:
            self.exit_code = exit_code


def in_words(error: BaseException) -> str:
    """Name what was raised, in one line, for those who must mend it.

    Examples
    --------
    >>> in_words(ValueError("no blade")), in_words(KeyboardInterrupt())
    ('ValueError: no blade', 'KeyboardInterrupt')
    """
    text = " ".join(str(error).split())
    return f"{type(error).__name__}: {text}" if text else type(error).__name__


MOST_GUESSED = 80
"""Nobody meant a name by more letters than these."""


def near_names(word: str, known: Iterable[str], most: int = 2) -> list[str]:
    """Find the names that somebody may have meant, the nearest first.

    Parameters
    ----------
    word
        What was written.
    known
        What there is; of full names the family counts apart.
    most
        So many at the most.

    Examples
    --------
    >>> near_names("titel", ["family", "title"])
    ['title']
    >>> near_names("kettle/scal", ["kettle/scale", "kettle/seal", "plug/scale"])
    ['kettle/scale', 'kettle/seal']
    >>> near_names("plug/seal", ["kettle/seal"])
    ['kettle/seal']
    """
    import difflib

    if len(word) > MOST_GUESSED:
        return []
    names = sorted(set(known))
    family, slash, bare = word.partition("/")
    if slash:
        # The family is the same letters over and over; and the right name with a wrong family is a common slip.
        siblings = [one.partition("/")[2] for one in names if one.startswith(f"{family}/")]
        near = [f"{family}/{one}" for one in near_names(bare, siblings, most)]
        return near or [one for one in names if one.partition("/")[2] == bare][:most]
    near = difflib.get_close_matches(word, names, n=most, cutoff=0.6)
    if not near and len(word) > 2:
        near = [one for one in names if one.startswith(word)][:most]
    return near


def meant(near: Iterable[str]) -> str:
    """Ask whether one of some names was meant.

    Examples
    --------
    >>> meant(["title", "tile"])
    "Did you mean 'title' or 'tile'?"
    """
    names = " or ".join(f"'{name}'" for name in near)
    return f"Did you mean {names}?"


class UnknownNameError(ExpectedError):
    """A name that nobody has defined; lists near ones.

    Examples
    --------
    >>> print(UnknownNameError("symptom", "no-hea", ["no-heat", "slow-boil"]))
    There is no symptom 'no-hea'. Did you mean 'no-heat'?
    >>> print(UnknownNameError("symptom", "xyz", ["no-heat", "slow-boil"]))
    There is no symptom 'xyz'. Choose one of: no-heat, slow-boil.
    """

    def __init__(self, kind: str, name: str, known: list[str]) -> None:
        near = near_names(name, known, most=3)
        if near:
            mend = meant(near)
        elif known:
            shown = ", ".join(known[:12]) + (f" and {len(known) - 12} more" if len(known) > 12 else "")
            mend = f"Choose one of: {shown}."
        else:
            mend = f"No {kind} is known here at all."
        super().__init__(f"There is no {kind} '{name}'.", mend)
        self.name = name
        self.near = near


class FaultsFoundError(ExpectedError):
    """The work was done and faults were found in what was read."""

    exit_code = 1


class UnfinishedCaseError(ExpectedError):
    """The case was left before its end; all of it is saved."""

    exit_code = 3


class DamagedFileError(ExpectedError):
    """A file does not say what was written into it."""

    exit_code = 4


class CaseInUseError(ExpectedError):
    """The case is open in another window."""

    exit_code = 5


class CannotWriteError(ExpectedError):
    """A folder or file cannot be written; nothing that was entered is lost."""

    exit_code = 6
