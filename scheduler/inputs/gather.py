"""What lies in a voyage folder: its tables, what is not read, and files that must not lie there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from scheduler.errors import Fault
from scheduler.inputs.csv_file import NoTable, read_csv
from scheduler.inputs.names import nearest, shown
from scheduler.inputs.raw import Gathered
from scheduler.inputs.reference import FILES
from scheduler.inputs.toml_file import read_toml

ORDERS: Final = "orders"
_LATER: Final = (".rtz", ".rtzp", ".grib", ".grib2", ".grb", ".grb2", ".nc")
"""Endings of route files (IEC 61174) and forecast files (GRIB, NetCDF), which are not read yet."""
_ROUTE_TABLE: Final = "route.csv"


def gather_folder(path: Path) -> Gathered:
    """Every table of the folder as it stands, and every fault in what lies there."""
    found = Gathered()
    known = {Path(table.folder, table.file): table for table in FILES}
    for file in _files(path, found):
        place = file.relative_to(path)
        if place in known:
            _take(file, known[place].name, found)
        elif place.parts[0] == ORDERS and _is_csv(file):
            found.orders.append(_name(place.relative_to(ORDERS)))
        elif fault := _unwanted(file, place):
            found.faults.append(fault)
        else:
            found.not_read.append(_name(place))
    found.faults.extend(_missing(found))
    return found


def _files(path: Path, found: Gathered) -> Iterator[Path]:
    """Files of the folder and of the folders in it; what lies deeper is noted as not read."""
    for inside in _listed(path, found):
        if not inside.is_dir():
            yield inside
            continue
        for file in _listed(inside, found):
            if file.is_dir():
                found.not_read.append(f"{_name(file.relative_to(path))}/")
            else:
                yield file


def _listed(path: Path, found: Gathered) -> list[Path]:
    try:
        return sorted(path.iterdir())
    except OSError as error:
        why = f"it cannot be opened ({error.strerror})"
        found.faults.append(Fault(file=_name(path), found=why, expected="a folder that can be read"))
        return []


def _name(place: Path) -> str:
    return shown(place.as_posix())


def _take(file: Path, name: str, found: Gathered) -> None:
    try:
        found.tables[name] = read_toml(file, name) if file.suffix == ".toml" else read_csv(file, name)
    except NoTable as broken:
        found.broken.add(name)
        found.faults.append(broken.fault)


def _is_csv(file: Path) -> bool:
    return file.suffix.casefold() == ".csv"


def _unwanted(file: Path, place: Path) -> Fault | None:
    """A fault for a file that would be passed over in silence otherwise."""
    if file.name == _ROUTE_TABLE or file.suffix.casefold() in _LATER:
        what = "route file" if file.suffix.casefold().startswith((".rtz", ".csv")) else "forecast file"
        return Fault(
            file=_name(place), found=f"a {what} is not read yet",
            expected="legs in voyage.csv, forecasts in weather.csv",
            mend="Take it out of the folder and read the folder again.",
        )  # fmt: skip
    if file.suffix.casefold() not in (".csv", ".toml"):
        return None
    near = nearest(place.as_posix(), [Path(table.folder, table.file).as_posix() for table in FILES])
    return Fault(
        file=_name(place), found="no table of a voyage folder has this name in this place",
        expected="only tables that are known", nearest=near, mend="Rename it, or take it out of the folder.",
    )  # fmt: skip


def _missing(found: Gathered) -> Iterator[Fault]:
    for table in FILES:
        if table.name not in found.tables and table.name not in found.broken and not table.optional:
            yield Fault(
                file=table.file, found="this table is missing", expected=f"the file {table.folder}/{table.file}",
                mend="Add it; a table may hold no row but its header.",
            )  # fmt: skip
