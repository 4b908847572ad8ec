"""Routes through a network of conductors, against scipy's graph search."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.sparse import csr_array
from scipy.sparse.csgraph import connected_components, dijkstra

from swaplint.engineering import ImpossibleInput
from swaplint.engineering.circuits import (
    held_nodes,
    is_line,
    joined,
    live_nodes,
    nodes_along,
    route,
    shortest_way,
    ways_at,
)

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
    assert route([("a", "b")], "a", "b", avoiding=["a"]) is None
    assert route([], "a", "a", avoiding=["a"]) is None


@given(st.lists(st.tuples(st.sampled_from(NODES), st.sampled_from(NODES), st.integers(1, 9)), max_size=12))
def test_the_shortest_way_agrees_with_scipy(network: list[tuple[str, str, int]]) -> None:
    matrix = np.full((len(NODES), len(NODES)), np.inf)
    for one, other, length in network:
        a, b = NODES.index(one), NODES.index(other)
        if a != b:
            matrix[a, b] = matrix[b, a] = min(matrix[a, b], length)
    far = dijkstra(csr_array(np.where(np.isinf(matrix), 0.0, matrix)), directed=False, indices=0)
    pairs, lengths = [(one, other) for one, other, _ in network], [float(length) for _, _, length in network]
    for target, expected in zip(NODES, far, strict=True):
        found = shortest_way(pairs, lengths, "a", target)
        assert (found is None) == bool(np.isinf(expected))
        if found is not None:
            assert sum(lengths[position] for position in found) == expected
            assert nodes_along(pairs, found, "a")[-1] == target


def test_of_equally_long_ways_the_one_found_first_is_taken() -> None:
    square = [("a", "b"), ("a", "c"), ("b", "d"), ("c", "d")]
    assert shortest_way(square, [1.0, 1.0, 1.0, 1.0], "a", "d") == (0, 2)
    assert shortest_way(square[::-1], [1.0, 1.0, 1.0, 1.0], "a", "d") == (2, 0)
    assert shortest_way(square, [1.5, 1.0, 1.0, 1.0], "a", "d") == (1, 3)
    assert shortest_way(square, [0.0] * 4, "a", "a") == ()


@given(NETWORK)
def test_groups_and_live_nodes_agree_with_scipy(network: list[tuple[str, str]]) -> None:
    matrix = np.zeros((len(NODES), len(NODES)))
    for one, other in network:
        matrix[NODES.index(one), NODES.index(other)] = 1.0
    _, labels = connected_components(csr_array(matrix), directed=False)
    expected = {node for node, label in zip(NODES, labels, strict=True) if label == labels[0]}
    assert live_nodes(network, ["a"]) == expected
    groups = joined(network)
    assert sorted(position for group in groups for position in group) == list(range(len(network)))
    used = {labels[NODES.index(pair[0])] for pair in network}
    assert len(groups) == len(used)


def test_a_relay_conducts_while_any_node_that_closes_it_is_live() -> None:
    wires = [("battery", "pin"), ("key-run", "coil")]
    assert "pin" not in live_nodes(wires, ["battery"], [["coil"], []])
    assert "pin" in live_nodes(wires, ["battery", "key-run"], [["coil"], []])
    assert "pin" in live_nodes(wires, ["battery", "key-start"], [["coil", "key-start"], []])
    assert live_nodes([("a", "b")], [], [["a"]]) == frozenset()  # nothing closes itself


def test_a_diode_conducts_one_way() -> None:
    wires = [("key-run", "lamp"), ("lamp", "field")]
    assert live_nodes(wires, ["key-run"], one_way=[False, True]) == {"key-run", "lamp", "field"}
    assert live_nodes(wires, ["field"], one_way=[False, True]) == {"field"}


def test_relays_stay_closed_as_long_as_their_coils_are_fed() -> None:
    holding = [("battery", "out"), ("out", "coil"), ("key", "coil")]
    was_live = ["battery", "out", "coil", "key"]
    assert held_nodes(holding, ["battery"], was_live, [["coil"], [], []]) == set(was_live)
    assert held_nodes(holding[::2], ["battery"], was_live, [["coil"], []]) == {"battery"}
    # one relay after the other opens, until nothing is left
    chain = [("battery", "a"), ("battery", "b"), ("battery", "c")]
    coils = [["key"], ["a"], ["b"]]
    assert held_nodes(chain, ["battery"], ["battery", "key", "a", "b", "c"], coils) == {"battery"}
    # two that hold each other stay, whichever was live before
    pair = [("battery", "a"), ("battery", "b")]
    assert held_nodes(pair, ["battery"], ["battery", "a", "b"], [["b"], ["a"]]) == {"battery", "a", "b"}
    assert held_nodes(pair, ["battery"], ["battery", "a"], [["b"], ["a"]]) == {"battery"}


@given(NETWORK, st.lists(st.sampled_from(NODES), max_size=3))
def test_without_relays_nothing_is_held(network: list[tuple[str, str]], before: list[str]) -> None:
    assert held_nodes(network, ["a"], before) == live_nodes(network, ["a"])


def test_a_line_has_two_ends() -> None:
    assert is_line([("a", "b")])
    assert not is_line([("a", "b"), ("b", "c"), ("b", "d")])
    assert not is_line([])
    # two ends, but two ways between the middle ones
    assert not is_line([("a", "b"), ("b", "c"), ("b", "c"), ("c", "d")])
    assert ways_at([("a", "b"), ("b", "c")]) == {"a": 1, "b": 2, "c": 1}


def test_a_negative_length_is_refused() -> None:
    with pytest.raises(ImpossibleInput):
        shortest_way([("a", "b")], [-1.0], "a", "b")
