"""Routes through a network of conductors, against scipy's graph search."""

import numpy as np
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import dijkstra

from swaplint.engineering.circuits import nodes_along, route

NODES = "abcdef"
NETWORK = st.lists(st.tuples(st.sampled_from(NODES), st.sampled_from(NODES)), max_size=12)


@given(NETWORK)
def test_the_number_of_conductors_agrees_with_scipy(network: list[tuple[str, str]]) -> None:
    matrix = np.zeros((len(NODES), len(NODES)))
    for one, other in network:
        if one != other:
            matrix[NODES.index(one), NODES.index(other)] = 1.0
    hops = dijkstra(csr_array(matrix), directed=False, unweighted=True, indices=0)
    for target, expected in zip(NODES, hops, strict=True):
        found = route(network, "a", target)
        assert (found is None) == bool(np.isinf(expected))
        assert found is None or len(found) == expected


@given(NETWORK)
def test_a_route_joins_its_ends_and_avoids_what_it_must(network: list[tuple[str, str]]) -> None:
    found = route(network, "a", "f", avoiding=["c"])
    if found is None:
        kept = [pair for pair in network if "c" not in pair]
        assert route(kept, "a", "f") is None
    else:
        nodes = nodes_along(network, found, "a")
        assert nodes[0] == "a"
        assert nodes[-1] == "f"
        assert "c" not in nodes


@given(NETWORK)
def test_direction_does_not_matter(network: list[tuple[str, str]]) -> None:
    there, back = route(network, "a", "f"), route(network, "f", "a")
    assert (there is None) == (back is None)
    assert there is None or back is None or len(there) == len(back)


def test_of_equal_routes_the_first_stated_is_taken() -> None:
    assert route([("a", "b"), ("a", "b")], "a", "b") == (0,)
    assert route([], "a", "a") == ()
    assert route([("a", "b")], "a", "b", avoiding=["b"]) is None
