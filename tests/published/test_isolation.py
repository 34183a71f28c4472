"""Isolation lists against independent readers of the same graph: networkx, and every path tried by hand.

No published list exists; what must hold is the demand itself (IMO MSC.581(110), 29 CFR 1915.15; two closed devices
or one blank: common practice, no source): with the listed devices closed no way into the space holds under two.
"""

from __future__ import annotations

from collections.abc import Iterator

import networkx as nx
from hypothesis import given, settings
from hypothesis import strategies as st

from scheduler.hazards.piping import Device, isolate

SPACE = "tank"
SPACES = frozenset({SPACE, "other tank"})
INNER = ["pipe 1", "pipe 2", "pipe 3", "joint 4"]
POINTS = [SPACE, *INNER, "other tank", "sea chest 1", "main: cargo", "blind end 1"]
HELD = 2


@st.composite
def pipings(draw: st.DrawFn) -> list[Device]:
    """Small networks with parallel devices, loops, loose ends and devices that cannot be locked."""
    rows = draw(
        st.lists(
            st.tuples(
                st.sampled_from(POINTS[:5]),
                st.sampled_from(POINTS),
                st.sampled_from([0, 1, 1, 2]),
                st.sampled_from([True, True, True, False]),
            ),
            min_size=1,
            max_size=9,
        )
    )
    return [
        Device(point=point, to_point=to_point, device_id=f"D{number}", strength=strength, lockable=lockable)
        for number, (point, to_point, strength, lockable) in enumerate(rows)
    ]


def sources(devices: list[Device]) -> set[str]:
    """Everything that is neither the space, nor a blind end of one device, nor a stretch of pipe that leads on."""
    ends = [end for device in devices if device.point != device.to_point for end in (device.point, device.to_point)]
    leads_on = {point for point in INNER if ends.count(point) > 1}
    blind = {"blind end 1"} if ends.count("blind end 1") == 1 else set()
    return set(ends) - leads_on - blind - {SPACE}


def strongest_hold(devices: list[Device], closed: set[str]) -> float | None:
    """By networkx: what the weakest way from a source to the space holds; None when there is no way."""
    graph: nx.MultiGraph[str] = nx.MultiGraph()
    graph.add_node(SPACE)
    for device in devices:
        counts = device.lockable and device.device_id in closed
        graph.add_edge(device.point, device.to_point, weight=device.strength if counts else 0)
    holds = nx.single_source_dijkstra_path_length(graph, SPACE, weight="weight")
    found = [hold for point, hold in holds.items() if point in sources(devices)]
    return min(found, default=None)


def walked_paths(devices: list[Device], point: str, path: tuple[Device, ...]) -> Iterator[tuple[Device, ...]]:
    """By hand: every path outward that meets no point twice, up to where it holds or comes to a source."""
    seen = {SPACE, *(end for device in path for end in (device.point, device.to_point))}
    for device in devices:
        if device in path or point not in (device.point, device.to_point) or device.point == device.to_point:
            continue
        far = device.to_point if device.point == point else device.point
        longer = (*path, device)
        if far == "blind end 1" and far not in sources(devices):
            continue
        if sum(each.strength for each in longer if each.lockable) >= HELD or far in sources(devices):
            yield longer
        elif far not in seen:
            yield from walked_paths(devices, far, longer)


@settings(max_examples=300, deadline=None)
@given(pipings())
def test_with_the_listed_devices_closed_networkx_finds_no_way_that_holds_under_two(devices: list[Device]) -> None:
    found = isolate(devices, SPACE, SPACES)
    hold = strongest_hold(devices, set(found.devices))
    assert found.closes == (hold is None or hold >= HELD)


@settings(max_examples=300, deadline=None)
@given(pipings())
def test_what_cannot_be_closed_stays_open_with_every_device_aboard_closed(devices: list[Device]) -> None:
    found = isolate(devices, SPACE, SPACES)
    hold = strongest_hold(devices, {device.device_id for device in devices})
    assert found.closes == (hold is None or hold >= HELD)
    assert not found.cannot_close or hold == min(branch.holds for branch in found.cannot_close)


@settings(max_examples=300, deadline=None)
@given(pipings())
def test_every_device_on_every_path_walked_by_hand_is_listed(devices: list[Device]) -> None:
    paths = list(walked_paths(devices, SPACE, ()))
    needed = {device.device_id for path in paths for device in path if device.strength and device.lockable}
    assert needed <= set(isolate(devices, SPACE, SPACES).devices)


@settings(max_examples=300, deadline=None)
@given(pipings())
def test_the_space_closes_just_where_every_path_walked_by_hand_holds(devices: list[Device]) -> None:
    paths = walked_paths(devices, SPACE, ())
    holds = all(sum(device.strength for device in path if device.lockable) >= HELD for path in paths)
    assert isolate(devices, SPACE, SPACES).closes == holds


@settings(max_examples=200, deadline=None)
@given(pipings())
def test_the_order_and_direction_of_the_rows_change_nothing(devices: list[Device]) -> None:
    turned = [
        Device(
            point=device.to_point,
            to_point=device.point,
            device_id=device.device_id,
            strength=device.strength,
            lockable=device.lockable,
        )
        for device in reversed(devices)
    ]
    one, other = isolate(devices, SPACE, SPACES), isolate(turned, SPACE, SPACES)
    assert (one.devices, one.branches) == (other.devices, other.branches)
    assert [(branch.source, branch.holds) for branch in one.cannot_close] == [
        (branch.source, branch.holds) for branch in other.cannot_close
    ]
