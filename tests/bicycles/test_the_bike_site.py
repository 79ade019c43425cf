"""The bundled library as a site: every tree has its page and every link leads somewhere."""

from __future__ import annotations

import posixpath
import re

import pytest

from diagtree.library.loading import load_library
from diagtree.publishing.site.pages import site_pages


@pytest.fixture(scope="module")
def library():
    return load_library()


def test_the_site_of_the_bundled_library_is_whole(library):
    pages = site_pages(library)
    assert {f"trees/{symptom}.html" for symptom in library.trees} <= set(pages)
    texts = {place: content.decode() for place, content in pages.items()}
    ids = {place: re.findall(r'\sid="([^"]+)"', text) for place, text in texts.items()}
    for place, text in texts.items():
        assert len(ids[place]) == len(set(ids[place])), place
        for link in set(re.findall(r'\shref="([^"]+)"', text)):
            path, _, anchor = link.partition("#")
            if link.startswith("data:"):
                continue
            target = posixpath.normpath(posixpath.join(posixpath.dirname(place), path)) if path else place
            assert target in pages, (place, link)
            assert not anchor or anchor in ids[target], (place, link)
