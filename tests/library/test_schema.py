"""The schemas agree with the program: every bundled file passes both, a broken one fails both."""

from pathlib import Path

import jsonschema
import pytest

from diagtree.errors import UnknownNameError
from diagtree.library.assembly import assemble
from diagtree.library.document import read_document
from diagtree.library.loading import collected
from diagtree.library.plugins import load_plugins
from diagtree.library.schema import MODELS, schema_of, schema_text, shipped
from diagtree.library.sources import read_source
from diagtree.library.validation import validated
from diagtree.library.workshop_file import workshop_text
from diagtree.model.conditions import Conditions
from diagtree.model.family import Family
from diagtree.model.tree import Tree

KETTLE = Path(__file__).parent.parent / "kettle"
NAMES = {Tree: "tree", Family: "catalogue", Conditions: "conditions"}


def as_an_editor_reads(value):
    """Turn texts into what the YAML 1.2 core schema makes of them: numbers and truth values."""
    if isinstance(value, dict):
        return {key: as_an_editor_reads(one) for key, one in value.items()}
    if isinstance(value, list):
        return [as_an_editor_reads(one) for one in value]
    if value in {"true", "false"}:
        return value == "true"
    for kind in (int, float):
        try:
            return kind(value)
        except ValueError:
            continue
    return value


@pytest.fixture(scope="module")
def validators():
    return {name: jsonschema.Draft202012Validator(schema_of(name)) for name in MODELS}


@pytest.mark.parametrize("name", MODELS)
def test_each_schema_is_a_schema(name):
    jsonschema.Draft202012Validator.check_schema(schema_of(name))
    assert schema_text(name) == schema_text(name)


def test_every_bundled_file_and_the_kettle_pass_an_independent_validator(validators):
    sources = [*collected(load_plugins(), [KETTLE]).sources]
    assert len(sources) > 10
    for source in sources:
        _, faults = validated(source.model, source.document)
        told = list(validators[NAMES[source.model]].iter_errors(as_an_editor_reads(source.document.data)))
        assert bool(told) == bool(faults), (source.document.file, told[:1], faults[:1])


def test_the_commented_workshop_file_passes(validators):
    data = read_document(workshop_text().encode(), "workshop.yaml").data
    validators["workshop"].validate(as_an_editor_reads(data))


BROKEN = {
    "tree": [
        ("first: lamp\n", ""),
        ("trust: sure", "trust: certain"),
        ("minutes: 1\n", "minutes: one\n"),
        ("next: other-socket", "next: Other Socket"),
        ("{says: Stays dark, next: other-socket}", "{says: Stays dark}"),
        ("{says: Stays dark, next: other-socket}", "{says: Stays dark, next: fuse, found: {scale: 3}}"),
        ("found: {scale: 11}", "found: {scale: 111}"),
        ("found: {scale: 11}", "found: scale"),
        ("title: The water", "titel: The water"),
        ("anytime: true", "anytime: perhaps"),
        ("expect: fuse-blown", "expects: fuse-blown"),
    ],
    "catalogue": [
        ("out-of-100: 30", "out-of-100: 300"),
        ("risk: nuisance", "risk: none"),
        ("remedies: [descale, new-element]", "remedies: []"),
        ("minutes: [1, 2, 4]", "minutes: [1, 2]"),
        ("torque: {from: 1.0, to: 1.4}, ", ""),
        ("verdict: clean", "verdict: wash"),
        ("hand: left", "hand: both"),
        ("parts: [element]", "parts: {element: 0}"),
        ("price: 9.50", "price: cheap"),
        ("fluids: [{fluid: vinegar,", "fluids: [{liquid: vinegar,"),
    ],
    "conditions": [
        ("speaks-of: water", "speaks-about: water"),
        ("out-of-100: 60", "out-of-100: sixty"),
        ("machine: {one: kettle, many: kettles}", "machine: {one: kettle}"),
    ],
}


@pytest.mark.parametrize(
    ("name", "old", "new"), [(name, old, new) for name, changes in BROKEN.items() for old, new in changes]
)
def test_a_broken_file_fails_both(validators, name, old, new):
    file = {"tree": "no-heat.yaml", "catalogue": "catalogue.yaml", "conditions": "conditions.yaml"}[name]
    text = (KETTLE / file).read_text(encoding="utf-8")
    assert old in text
    source = read_source(text.replace(old, new, 1).encode(), file, "own")
    assert assemble([source]).faults
    assert not validators[name].is_valid(as_an_editor_reads(source.document.data))


@pytest.mark.parametrize("name", MODELS)
def test_the_shipped_schema_is_the_models_own(name):
    """If this fails: write_shipped() from diagtree.library.schema."""
    assert shipped(name).read_text(encoding="utf-8") == schema_text(name)


def test_an_unknown_schema_lists_those_that_there_are():
    with pytest.raises(UnknownNameError, match="Did you mean 'tree'"):
        schema_of("trees")
