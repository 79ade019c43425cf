"""JSON Schemas of what authors write, made from the models: editors complete and check while one types."""

from __future__ import annotations

import ast
import inspect
import itertools
import json
import textwrap
from pathlib import Path
from typing import Any

from pydantic import BaseModel
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from diagtree.errors import UnknownNameError
from diagtree.model import family as _family
from diagtree.model import words as _words
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family, Fastener
from diagtree.model.tree import Answer, Tree
from diagtree.model.workshop import Workshop

MODELS: dict[str, type[BaseModel]] = {
    "tree": Tree,
    "catalogue": Family,
    "conditions": Conditions,
    "workshop": Workshop,
}
"""What there is a schema of, by the name that it is asked for."""

DIALECT = "https://json-schema.org/draft/2020-12/schema"

_EITHER: dict[str, list[dict[str, list[str]]]] = {
    Answer.__name__: [{"required": ["next"]}, {"required": ["found"]}],
    Fastener.__name__: [{"required": ["torque"]}, {"required": ["until"]}],
}
"""Keys of which one must be there."""


class _Generator(GenerateJsonSchema):
    """Knows what the models take beside what their fields say.

    YAML as editors read it turns ``5`` into a number and ``true`` into a truth value, so a text may be one;
    one text may stand for a list of texts; parts and fluids have short forms.
    """

    schema_dialect = DIALECT

    def str_schema(self, schema: core_schema.StringSchema) -> JsonSchemaValue:
        # A text or a name may look like a number or a truth value: an answer "no", a class "8.8".
        return {**super().str_schema(schema), "type": ["string", "number", "boolean"]}

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        # What is not there is left out; nobody writes "null".
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        made = super().default_schema(schema)
        return {key: value for key, value in made.items() if key != "default" or value not in (None, [], {})}

    def dict_schema(self, schema: core_schema.DictSchema) -> JsonSchemaValue:
        made = super().dict_schema(schema)
        if "patternProperties" in made:
            made["additionalProperties"] = False
        return made

    def field_title_should_be_set(self, schema: Any) -> bool:  # noqa: ANN401 - as the generator declares it
        del schema
        return False

    def decimal_schema(self, schema: core_schema.DecimalSchema) -> JsonSchemaValue:
        made: JsonSchemaValue = {"type": "number"}
        for limit, key in (
            ("ge", "minimum"),
            ("le", "maximum"),
            ("gt", "exclusiveMinimum"),
            ("lt", "exclusiveMaximum"),
        ):
            bound: Any = schema.get(limit)
            if bound is not None:
                made[key] = int(bound) if bound == int(bound) else float(bound)
        return made

    def function_before_schema(self, schema: core_schema.BeforeValidatorFunctionSchema) -> JsonSchemaValue:
        made = super().function_before_schema(schema)
        function: Any = schema["function"]["function"]
        if function is _words._one_or_many:
            return {"anyOf": [made["items"], made]}
        if function is _family._amounts:
            names = self.generate_inner(schema["schema"]["keys_schema"])
            return {"anyOf": [names, {"type": "array", "items": names}, made]}
        if function is _family._uses:
            name = {"type": "string", "pattern": _words.REFERENCE_PATTERN}
            return {"anyOf": [name, {"type": "array", "items": {"anyOf": [name, made["items"]]}}]}
        return made

    def model_schema(self, schema: core_schema.ModelSchema) -> JsonSchemaValue:
        made = super().model_schema(schema)
        for name, said in _said_of_fields(schema["cls"]).items():
            written = made.get("properties", {}).get(_words.in_authors_words(name))
            if written is not None:
                written.setdefault("description", said)
        either = _EITHER.get(schema["cls"].__name__)
        if either is not None:
            made["oneOf" if schema["cls"] is Answer else "anyOf"] = either
        return made


def _said_of_fields(model: type[BaseModel]) -> dict[str, str]:
    """Return what stands under each field of a model in its source.

    The models could keep these texts themselves, but then each start of the program would parse its source.
    """
    said: dict[str, str] = {}
    for kind in reversed(model.__mro__):
        if kind is BaseModel or not issubclass(kind, BaseModel):
            continue
        body = ast.parse(textwrap.dedent(inspect.getsource(kind))).body[0]
        assert isinstance(body, ast.ClassDef)
        for field, text in itertools.pairwise(body.body):
            if (
                isinstance(field, ast.AnnAssign)
                and isinstance(field.target, ast.Name)
                and isinstance(text, ast.Expr)
                and isinstance(text.value, ast.Constant)
            ):
                said[field.target.id] = inspect.cleandoc(str(text.value.value))
    return said


def schema_of(name: str) -> dict[str, Any]:
    """Return the JSON Schema of what authors write.

    Parameters
    ----------
    name
        ``tree``, ``catalogue``, ``conditions`` or ``workshop``.

    Raises
    ------
    UnknownNameError
        If there is no schema of that name.

    Examples
    --------
    >>> schema = schema_of("tree")
    >>> schema["required"]
    ['symptom', 'title', 'family', 'first', 'checks']
    >>> schema["properties"]["also-called"]["anyOf"][0]["type"]
    ['string', 'number', 'boolean']
    """
    if name not in MODELS:
        raise UnknownNameError("schema", name, list(MODELS))
    made = MODELS[name].model_json_schema(by_alias=True, schema_generator=_Generator, mode="validation")
    _count_items(made)
    made.pop("title", None)
    return {"$schema": DIALECT, "title": f"diagtree {name}", **made}


def _count_items(made: object) -> None:
    """Put right what the generator says of lists with a shorter form: they have items, not letters."""
    if isinstance(made, dict):
        if "anyOf" in made and "minLength" in made:
            least = made.pop("minLength")
            for choice in made["anyOf"]:
                if choice.get("type") == "array":
                    choice["minItems"] = least
        for value in made.values():
            _count_items(value)
    elif isinstance(made, list):
        for value in made:
            _count_items(value)


def schema_text(name: str) -> str:
    """Return a schema as text, ready for a file."""
    return json.dumps(schema_of(name), ensure_ascii=False, indent=2) + "\n"


def shipped(name: str) -> Path:
    """Tell where the schema that comes with the program lies."""
    return Path(__file__).parent / "schemas" / f"{name}.schema.json"


def write_shipped() -> None:
    """Write the schemas that come with the program again, after a model has changed."""
    for name in MODELS:
        shipped(name).parent.mkdir(exist_ok=True)
        shipped(name).write_text(schema_text(name), encoding="utf-8")
