"""Holds what a file says against a model, and says in plain trade English what does not fit."""

from __future__ import annotations

import re
import types
import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from functools import lru_cache
from typing import Any, TypeVar, Union, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic_core import ErrorDetails

from diagtree.library.document import Document, Plain, step, value_at
from diagtree.library.fault import Fault, Path, did_you_mean, short
from diagtree.model.words import in_authors_words, name_from

_Model = TypeVar("_Model", bound=BaseModel)


def validated(
    model: type[_Model], document: Document, data: Plain = None
) -> tuple[_Model | None, list[Fault]]:
    """Build a model from what a file says.

    Parameters
    ----------
    model
        The model that it should be.
    document
        The file.
    data
        What to take instead of the whole file: the file's data with something left out.

    Returns
    -------
    tuple
        The model, or None; and all faults, but for what its writing was told of already.
    """
    try:
        return model.model_validate(document.data if data is None else data, by_alias=True, by_name=False), []
    except ValidationError as error:
        told = {fault.at for fault in document.faults} - {()}
        return None, [fault for fault in faults_in(model, document, error) if fault.at not in told]


def faults_in(model: type[BaseModel], document: Document, error: ValidationError) -> list[Fault]:
    """Turn a model's complaints into faults with line, column and the author's words."""
    told: dict[Path, list[Fault]] = {}
    for detail in error.errors(include_url=False):
        path, value = _place(document, detail)
        told.setdefault(path, []).append(_fault(model, document, detail, path, value))
    # A value that may be one of several things gives a complaint for each; the last kind fits a mapping.
    # What is wrong inside a mapping says more than that it is no text.
    return sorted(
        {
            faults[-1] if _is_open(document, path) else faults[0]
            for path, faults in told.items()
            if not (
                _is_open(document, path) and faults[-1].text.endswith("must stand.") and _deeper(path, told)
            )
        }
    )


_THREE = "Write three: [low, likely, high]."


def _deeper(path: Path, others: Iterable[Path]) -> bool:
    return any(len(other) > len(path) and other[: len(path)] == path for other in others)


def _is_open(document: Document, path: Path) -> bool:
    return isinstance(value_at(document.data, path), dict)


def _place(document: Document, detail: ErrorDetails) -> tuple[Path, Any]:
    """Find the way in the file; drop the parts that the validator puts in for unions and one-item lists."""
    data = document.data
    path: list[str | int] = []
    ends_with_a_key = detail["type"] in {"missing", "extra_forbidden"}
    for part in detail["loc"][:-1] if ends_with_a_key else detail["loc"]:
        inside = step(data, part)
        if inside is not None:
            data = inside
            path.append(part)
    if ends_with_a_key:
        path.append(detail["loc"][-1])
    return tuple(path), data


def _fault(
    model: type[BaseModel], document: Document, detail: ErrorDetails, path: Path, value: Plain
) -> Fault:
    kind = detail["type"]
    if kind == "missing":
        return _missing(document, path)
    if kind == "extra_forbidden":
        return _unknown_key(model, document, path)
    is_key = bool(detail["loc"]) and detail["loc"][-1] == "[key]"
    if is_key and kind != "value_error":
        return document.fault(path, *_bad_name(str(path[-1])), of_key=True)
    text, mend = _in_plain_english(detail, value)
    return document.fault(path, text, mend, of_key=is_key or isinstance(value, (dict, list)))


def _missing(document: Document, path: Path) -> Fault:
    *inner, last = path
    if isinstance(last, int):
        count = len(value_at(document.data, tuple(inner)))
        told = f"There {'is only 1 number' if count == 1 else f'are only {count} numbers'} here."
        return document.fault(
            tuple(inner), told if count else "There is no number here.", _THREE, of_key=True
        )
    # It is not there, so the place to show is what it is missing from.
    return document.fault(tuple(inner), f"'{last}:' is missing.", "Add it.", of_key=True)


def _unknown_key(model: type[BaseModel], document: Document, path: Path) -> Fault:
    *inner, last = path
    known = keys_at(model, inner)
    here = value_at(document.data, path)
    if here == "":
        otherwise = "If it belongs to a text with a comma, put the whole text in quotes."
        mend = did_you_mean(str(last), known, otherwise)
        mend = mend if mend.startswith("Did") else otherwise
    else:
        mend = did_you_mean(str(last), known, f"The keys here are: {', '.join(known)}.")
    mend = f"{mend} {_look_alike(str(last))}".rstrip()
    return document.fault(path, f"There is no key '{short(str(last))}' here.", mend, of_key=True)


def _bad_name(name: str) -> tuple[str, str]:
    look_alike = _look_alike(name)
    better = "" if look_alike else name_from(name)
    hint = f": '{better}'" if better and better[0].isalpha() else ""
    mend = f"{look_alike} Use small letters, digits and hyphens, a letter first{hint}."
    return f"'{short(name)}' is not a name.", mend.lstrip()


def _look_alike(word: str) -> str:
    """Say which letter of a word only looks like a Latin one, or like a blank: nobody sees it for themselves."""
    for letter in word:
        called = unicodedata.name(letter, f"U+{ord(letter):04X}")
        if not letter.isascii() and not called.startswith("LATIN"):
            return f"The '{letter}' in it is a {called.lower()}: type it anew."
    return ""


def _in_plain_english(detail: ErrorDetails, value: Plain) -> tuple[str, str]:
    kind = detail["type"]
    context: Mapping[str, Any] = detail.get("ctx") or {}
    if kind == "value_error":
        said = str(context["error"])
        return f"{said[0].upper()}{said[1:]}.", ""
    if isinstance(value, str) and not value.strip():
        return "There is nothing here.", "Write something, or take the line out."
    shown = f"'{short(value)}'" if isinstance(value, str) else _what(value)
    shown = f"{shown[0].upper()}{shown[1:]}"
    if kind in {
        "decimal_parsing",
        "decimal_type",
        "float_parsing",
        "finite_number",
        "int_parsing",
        "int_type",
    }:
        mend = (
            "Write 1.5, not 1,5."
            if re.fullmatch(r"\d+,\d+", str(value))
            else "Write a number, without its unit."
        )
        return f"{shown} is not a number.", mend
    if kind == "int_from_float":
        return f"{shown} is not a whole number.", ""
    if kind in {"bool_parsing", "bool_type"}:
        return f"{shown} is neither true nor false.", "Write true or false."
    if kind == "enum":
        choices = re.findall(r"'([^']*)'", str(context["expected"]))
        mend = did_you_mean(str(value), choices)
        return f"{shown} is not one of {', '.join(choices)}.", mend if mend.startswith("Did") else ""
    if kind == "string_pattern_mismatch":
        return _bad_name(str(value))
    bounds = {
        "greater_than": ("gt", "must be more than"),
        "greater_than_equal": ("ge", "must not be less than"),
        "less_than": ("lt", "must be less than"),
        "less_than_equal": ("le", "must not be more than"),
    }
    if kind in bounds:
        key, words = bounds[kind]
        return f"{shown} {words} {context[key]}.", ""
    if kind == "too_short":
        return f"There are too few entries here: at least {context['min_length']} are needed.", ""
    if kind == "too_long":
        return f"There are too many entries here: at most {context['max_length']} are allowed.", ""
    if kind == "string_too_long":
        return f"The text is longer than {context['max_length']} letters.", "Say it shorter."
    wanted = {
        "string_type": "a text",
        "tuple_type": "a list: [one, two]",
        "mapping_type": "'key: value' lines, indented below it,",
        "dict_type": "'key: value' lines, indented below it,",
        "model_type": "'key: value' lines, indented below it,",
        "model_attributes_type": "'key: value' lines, indented below it,",
    }.get(kind)
    if wanted is not None and kind in {"mapping_type", "dict_type"} and detail["loc"][-1] == "found":
        name = value if isinstance(value, str) else "the-cause"
        return "A finding needs a count for each cause.", f"Write found: {{{name}: 20}}, out of 100."
    if kind == "tuple_type" and detail["loc"][-1] == "minutes":
        return f"{shown} is not enough: a job may go well or badly.", _THREE
    if wanted is not None:
        return f"{shown} stands where {wanted} must stand.", ""
    return f"{shown} does not fit: {detail['msg'].lower()}.", ""


def _what(value: Plain) -> str:
    if isinstance(value, dict):
        return "a mapping ('key: value' lines)"
    if isinstance(value, (list, tuple)):
        return "a list"
    return "nothing" if value is None else f"'{value}'"


def keys_at(model: type[BaseModel], path: Iterable[str | int]) -> list[str]:
    """List the keys that may stand at a path of a model, as authors spell them.

    Examples
    --------
    >>> from diagtree.model.conditions import Conditions
    >>> keys_at(Conditions, ["conditions", "kept", "states", "damp"])
    ['says', 'out-of-100']
    """
    here: Plain = model
    for part in path:
        models = _models(here)
        if models:
            fields = _fields(models[0])
            if part not in fields:
                return []
            here = fields[str(part)]
        else:
            here = _inside(here)
    models = _models(here)
    return list(_fields(models[0])) if models else []


@lru_cache(maxsize=64)
def _fields(model: type[BaseModel]) -> dict[str, Any]:
    return {in_authors_words(name): one.annotation for name, one in model.model_fields.items()}


def _models(annotation: Plain) -> list[type[BaseModel]]:
    if isinstance(annotation, type) and not isinstance(annotation, types.GenericAlias):
        return [annotation] if issubclass(annotation, BaseModel) else []
    if get_origin(annotation) in {Union, types.UnionType}:
        return [model for one in get_args(annotation) for model in _models(one)]
    if hasattr(annotation, "__metadata__"):
        return _models(get_args(annotation)[0])
    return []


def _inside(annotation: Plain) -> Plain:
    """Tell what a mapping's values or a list's items are."""
    if hasattr(annotation, "__metadata__"):
        return _inside(get_args(annotation)[0])
    origin, arguments = get_origin(annotation), get_args(annotation)
    if origin in {Union, types.UnionType}:
        return next((_inside(one) for one in arguments if get_args(one)), None)
    if isinstance(origin, type) and issubclass(origin, Mapping):
        return arguments[1]
    if isinstance(origin, type) and issubclass(origin, Sequence):
        return arguments[0]
    return None
