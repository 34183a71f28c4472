"""What lies in a voyage folder: its tables, what is not read, and files that must not lie there."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from scheduler.errors import Fault
from scheduler.inputs.csv_file import NoTable, read_csv
from scheduler.inputs.names import nearest
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
        elif place.parts[0] == ORDERS:
            found.orders.append(place.name) if _is_csv(file) else found.not_read.append(place.as_posix())
        elif fault := _unwanted(file, place):
            found.faults.append(fault)
        else:
            found.not_read.append(place.as_posix())
    found.faults.extend(_missing(found))
    return found


def _files(path: Path, found: Gathered) -> Iterator[Path]:
    """Files of the folder and of the folders in it; what lies deeper is noted as not read."""
    for inside in sorted(path.iterdir()):
        if not inside.is_dir():
            yield inside
            continue
        for file in sorted(inside.iterdir()):
            if file.is_dir():
                found.not_read.append(f"{file.relative_to(path).as_posix()}/")
            else:
                yield file


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
            file=place.as_posix(), found=f"a {what} is not read yet",
            expected="legs in voyage.csv, forecasts in weather.csv",
            mend="Take it out of the folder and read the folder again.",
        )  # fmt: skip
    names = [Path(table.folder, table.file).as_posix() for table in FILES]
    if not _is_csv(file) and place.as_posix() not in {name.casefold() for name in names} and file.suffix != ".toml":
        return None
    near = nearest(place.as_posix(), names)
    return Fault(
        file=place.as_posix(), found="no table of a voyage folder has this name in this place",
        expected="only tables that are known", nearest=near, mend="Rename it, or take it out of the folder.",
    )  # fmt: skip


def _missing(found: Gathered) -> Iterator[Fault]:
    for table in FILES:
        if table.name not in found.tables and table.name not in found.broken and not table.optional:
            yield Fault(
                file=table.file, found="this table is missing", expected=f"the file {table.folder}/{table.file}",
                mend="Add it; a table may hold no row but its header.",
            )  # fmt: skip
