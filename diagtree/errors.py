"""Errors that are expected: a person can mend them, so they come with what is wrong and what to do."""

from __future__ import annotations


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
        import difflib

        near = difflib.get_close_matches(name, known, n=3, cutoff=0.6)
        if near:
            mend = "Did you mean " + " or ".join(f"'{word}'" for word in near) + "?"
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
