"""Ways that lead round, held against networkx: none is missed, and none is told that closes no ring."""

from typing import NamedTuple

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from diagtree.library.rings import rings


class Lane(NamedTuple):
    """A way on."""

    to: str


PLACES = st.sampled_from("abcdefg")
MAPS = st.dictionaries(PLACES, st.lists(PLACES.map(Lane), max_size=4), max_size=7)


def graph_of(on):
    graph = nx.MultiDiGraph()
    graph.add_nodes_from(on)
    graph.add_edges_from((start, lane.to) for start, lanes in on.items() for lane in lanes if lane.to in on)
    return graph


@settings(max_examples=200)
@given(MAPS)
def test_each_ring_is_one_and_without_their_closing_ways_none_is_left(on):
    graph = graph_of(on)
    found = list(rings(on))
    assert bool(found) == (not nx.is_directed_acyclic_graph(graph))
    for lane, ring in found:
        assert ring[0] == ring[-1] == lane.to
        assert len(set(ring)) == len(ring) - 1
        assert nx.is_path(graph, ring)
        graph.remove_edge(ring[-2], ring[-1])
    assert nx.is_directed_acyclic_graph(graph)


def test_a_ring_of_fifty_thousand_neither_crashes_nor_hangs():
    many = 50_000
    on = {str(place): [Lane(str((place + 1) % many))] for place in range(many)}
    ((lane, ring),) = rings(on)
    assert (lane.to, len(ring)) == ("0", many + 1)
