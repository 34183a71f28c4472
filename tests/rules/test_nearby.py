"""What lies next to what."""

from __future__ import annotations

from scheduler.domain.ship import Contact
from scheduler.rules.nearby import contacts, neighbours_of
from tests.builders import a_folder, touching


def test_a_contact_stated_once_holds_both_ways() -> None:
    folder = a_folder(neighbours=touching("3P C3", "3S C3", "AV APK"))
    assert neighbours_of(folder, "C3") == ("3P", "3S")
    assert neighbours_of(folder, "3P") == ("C3",)


def test_a_space_in_no_row_is_next_to_all() -> None:
    folder = a_folder(neighbours=touching("3P C3", "3S C3"))
    assert neighbours_of(folder, "AV") == ("3P", "3S", "APK", "C3")
    assert neighbours_of(folder, "3P") == ("APK", "AV", "C3")


def test_the_closest_of_two_contacts_holds() -> None:
    rows = (
        Contact(space="3P", neighbour="C3", contact="edge"),
        Contact(space="C3", neighbour="3P", contact="bulkhead"),
    )
    assert contacts(a_folder(neighbours=rows))["3P"]["C3"] == "bulkhead"
