"""What is in a space after everything that was done to it."""

from __future__ import annotations

import pytest

from scheduler.check.scene import Scene
from scheduler.check.states import States
from scheduler.domain.operations import Cargo, Content, Operation
from tests.check.made import a_folder, at, the_good_week

THE_PLAN = the_good_week()[1]


def after(space: str, first: str, *steps: str | tuple[str, str], cargo: str = "naphtha") -> str:
    """The state of a space once these steps, an hour each, are done; a pair says how a step leaves the space."""
    runs = []
    for number, step in enumerate(steps):
        kind, leaves = step if isinstance(step, tuple) else (step, None)
        runs.append(
            Operation(
                operation=f"O{number}", kind=kind, start=at(8, f"{number:02d}:00"), end=at(8, f"{number + 1:02d}:00"),
                spaces=(space,), cargo=cargo, leaves=leaves,
            )
        )  # fmt: skip
    folder = a_folder(
        operations=tuple(runs),
        contents=(Content(space=space, state=first, cargo=cargo),),
        cargoes=(
            Cargo(cargo="naphtha", kind="liquid", toxic=False), Cargo(cargo="propane", kind="gas", toxic=False),
            Cargo(cargo="grain", kind="solid", toxic=False),
        ),
    )  # fmt: skip
    return States(Scene(folder, THE_PLAN)).at(space, at(9, "00:00")).name


@pytest.mark.parametrize(
    ("space", "first", "steps", "state"),
    [
        ("C3", "gas-free", ("load",), "cargo"),
        ("C3", "cargo", ("discharge",), "empty with vapour"),
        ("C3", "cargo", ("discharge", "gas-free"), "empty with vapour"),
        ("C3", "cargo", ("discharge", "tank wash", "gas-free"), "gas-free"),
        ("C3", "cargo", ("discharge", "tank wash", "purge", "gas-free"), "gas-free"),
        ("C3", "cargo", ("discharge", "tank wash", "purge"), "inerted"),
        ("C3", "inerted", ("gas-free",), "empty with vapour"),
        ("C3", "gas-free", ("tank wash", "load", "discharge", "gas-free"), "empty with vapour"),
        ("C3", "gas-free", ("inert",), "inerted"),
        ("C3", "gas-free", ("nitrogen",), "nitrogen padded"),
        ("C3", "gas-free", ("transfer",), "unknown"),
        ("C3", "gas-free", ("slops",), "unknown"),
        ("C3", "gas-free", ("line blow",), "unknown"),
        ("C3", "gas-free", ("gauging",), "gas-free"),
        ("C3", "gas-free", ("ballast in",), "ballast"),
        ("C3", "gas-free", ("ballast in", "ballast out"), "clean and empty"),
        ("C3", "empty with vapour", ("ballast in", "ballast out"), "empty with vapour"),
        ("3P", "ballast", ("ballast out",), "clean and empty"),
        ("3P", "clean and empty", ("ballast exchange",), "ballast"),
        ("FO", "gas-free", ("bunkering",), "fuel"),
        ("C3", "cargo", ("discharge", "tank wash", ("gas-free", "residue")), "residue"),
        ("C3", "cargo", ("discharge", ("tank wash", "gas-free")), "empty with vapour"),
        ("C3", "cargo", (("discharge", "clean and empty"),), "empty with vapour"),
        ("C3", "fumigated", (), "fumigated"),
    ],
)
def test_the_state_after_the_steps(space: str, first: str, steps: tuple[str, ...], state: str) -> None:
    assert after(space, first, *steps) == state


def test_a_liquefied_gas_needs_no_washing_after_its_inerting() -> None:
    assert after("C3", "cargo", "discharge", "inert", "gas-free", cargo="propane") == "gas-free"


def test_a_solid_cargo_leaves_its_residue() -> None:
    assert after("C3", "cargo", "discharge", cargo="grain") == "residue"


def test_during_any_operation_the_state_is_unknown() -> None:
    run = Operation(operation="X", kind="gauging", start=at(8, "10:00"), end=at(8, "11:00"), spaces=("C4",))
    folder = a_folder(operations=(run,))
    states = States(Scene(folder, THE_PLAN))
    assert [states.at("C4", at(8, clock)).name for clock in ("09:59", "10:00", "10:59", "11:00")] == [
        "gas-free",
        "unknown",
        "unknown",
        "gas-free",
    ]
