"""A small good voyage as plain tables, to be broken in one way at a time and written as a folder or a workbook.

Ship, people and places are invented. A table is a list of rows of text, its header first; ship, policy and week are
rows of key and value.
"""

from __future__ import annotations

import copy
import csv
from pathlib import Path

from openpyxl import Workbook

from scheduler.errors import Fault, InputFaults
from scheduler.inputs import read_folder
from scheduler.inputs.reference import FILES, TABLE_BY_NAME
from scheduler.inputs.toml_file import read_toml

Tables = dict[str, list[list[str]]]

_TEXT = {
    "ship": """
        key,value
        name,Sorrel Hythe
        type,tanker
        length_m,141.5
        beam_m,23
        service_speed_kn,13
        greatest_speed_kn,14.5
        least_speed_kn,5
        hove_to_speed_kn,2
        fuel.1.speed_kn,5
        fuel.1.t_per_day,6.5
        fuel.2.speed_kn,13
        fuel.2.t_per_day,24
    """,
    "policy": """
        key,value
        entrants_min,2
        air.floor_h.void,5
        sea.heavy.free_m,1.2
    """,
    "week": """
        key,value
        start,2027-03-08T00:00Z
        days,7
        work_hours,08:00-18:00
        rest_days,Sunday
    """,
    "spaces": """
        space,name,kind,area,in_charge,volume_m3,depth_m,framing,reach,dangerous,air_reaches_bottom,rescue_note,x_m,y_m
        2P,No. 2 water ballast port,ballast tank,other,deck,410,12,moderate,hose,yes,yes,,60,8
        2S,No. 2 water ballast starboard,ballast tank,other,deck,410,12,moderate,hose,yes,yes,,60,-8
        C2,No. 2 cargo tank,cargo tank,cargo,deck,1500,11,open,hose,yes,yes,,60,0
    """,
    "neighbours": """
        space,neighbour,contact
        C2,2P,bulkhead
        C2,2S,bulkhead
        2P,2S,corner
    """,
    "openings": """
        opening,space,kind,x_m,y_m,z_m,on_weather_deck,clear_mm,lifting
        2P-M,2P,manhole,58,9,12.5,yes,600,tripod
        2S-M,2S,manhole,58,-9,12.5,yes,600,tripod
        C2-H,C2,hatch,57,1,13,yes,800,davit
    """,
    "outlets": """
        outlet,kind,x_m,y_m,z_m,small_flow
        OV2,high velocity,70,0,15,yes
    """,
    "outlet_tanks": """
        outlet,space
        OV2,C2
    """,
    "lines": """
        point,to_point,device,device_id,lockable,worked_from
        2P,pipe 2P,valve,B21,yes,deck
        pipe 2P,main: ballast,valve,B22,yes,engine room
        2S,main: ballast,spectacle blank,B23,yes,deck
        C2,main: cargo,spectacle blank,C21,yes,deck
    """,
    "gear": """
        gear,kind,count,flow_m3_h,duct_m,drive,measures,due
        FAN,fan,2,3500,15,water,,
        GAS-1,gas instrument,1,,,,oxygen; lfl,2027-06-30
    """,
    "people": """
        person,name,rank,department,able,last_drill,joins,leaves,calendar_address
        P1,Marisol Keverne,chief officer,deck,officer in charge; gas tester,2027-02-20,,,
        P2,Anselm Draycott,able seaman,deck,entrant; rigging,2027-02-20,,,
        P3,Yusra Halloran,able seaman,deck,attendant,2027-02-20,,,
    """,
    "duties": """
        person,start,end,kind,repeat,until
        P2,2027-03-08T04:00,2027-03-08T08:00,watch,daily,
        P3,2027-03-09T08:00,2027-03-09T12:00,day work,once,
    """,
    "past_hours": """
        person,start,end
        P1,2027-03-06T08:00,2027-03-06T12:00
        P2,2027-03-06T08:00,2027-03-06T12:00
        P3,2027-03-06T08:00,2027-03-06T12:00
    """,
    "clocks": """
        at,offset
        2027-03-01T00:00Z,+01:00
        2027-03-11T01:00Z,+00:00
        2027-03-13T02:00Z,+01:00
    """,
    "voyage": """
        leg,kind,place,start,end,from_lat,from_lon,to_lat,to_lon,track,speed_kn,arrive_by,\
        late_allowed_h,may_heave_to,heading_deg,lies_to,restricted
        V1,passage,Fallow Deep,2027-03-08T00:00Z,2027-03-12T00:00Z,40,-12,31.5,-15,rhumb line,6,\
        2027-03-12T00:00Z,1,no,,,no
        V2,anchorage,Teasel Roads,2027-03-12T00:00Z,2027-03-15T00:00Z,31.5,-15,,,,,,,,,tide,no
    """,
    "places": """
        place,entries,hot_work,coating,venting,ballast_out,notice_h,note
        Fallow Deep,allowed,ask,ask,allowed,allowed,,
        Teasel Roads,allowed,forbidden,ask,forbidden,ask,48,
    """,
    "permissions": """
        place,what,asked_at,answer,from,until,reference
        Teasel Roads,coating,2027-03-07T09:00,yes,2027-03-12T08:00,2027-03-14T20:00,TR/5
    """,
    "conditions": """
        condition,start,end,draught_fwd_m,draught_aft_m,displacement_t,gm_m,kg_m,roll_period_s,\
        full,may_be_empty,sea_limit_m,checked_with,checked_by,checked_at
        Ballast,2027-03-08T00:00Z,2027-03-15T00:00Z,4,5.5,11000,2.1,7,11,\
        2P; 2S,2P; 2P+2S,2,loading instrument,P1,2027-03-07T18:00
    """,
    "contents": """
        space,state,cargo,temp_c,closed_since
        2P,ballast,,,
        2S,ballast,,,
        C2,gas-free,ANILINE,,2027-03-05T10:00
    """,
    "cargoes": """
        cargo,kind,cas,toxic,uses_oxygen,lfl_percent,exposure_limit_ppm,flash_c,vapour_density,source
        ANILINE,liquid,62-53-3,yes,no,1.3,2,70,3.2,data sheet
    """,
    "operations": """
        operation,kind,start,end,earliest,latest,hours,spaces,rate_m3_h,vapour,lines,people,cargo,leaves,after,bars,firm,note
        OUT,ballast out,,,2027-03-08T06:00,2027-03-09T18:00,4,2P,150,none,B21; B22,,,,,none,yes,
        IN,ballast in,,,2027-03-10T08:00,2027-03-13T18:00,4,2P,150,none,,,,,OUT,,,
        DR,entry drill,2027-03-10T15:00,2027-03-10T16:00,,,,,,,,rigging:1,,,,none,yes,on deck
    """,
    "entries": """
        entry,space,purpose,work,hours,splittable,least_session_hours,entrants,effort,priority,\
        earliest,due,after,daylight,night,needs,at,only,reference,note
        E1,2P,look at the frames,inspect,3,no,,2,light,1,2027-03-09T08:00,2027-03-12T18:00,,no,no,CLASS,,,WO-7,
        E2,C2,coat a patch,coat,5,yes,1,2,heavy,3,,,E1,yes,no,,,P2,WO-8,
    """,
    "coatings": """
        entry,product,litres,litres_per_hour,thinner_percent,thinner_cas,own_solvent_percent,density_kg_l,solvents,flash_c,flash_c_thinned,lfl_percent,least_air_m3_h,supplied_air,drying_h,source
        E2,two-pack epoxy,6,2,10,1330-20-7,20,0.9,1330-20-7:60; 71-36-3:40,27,25,0.9,12000,yes,12,maker's sheet
    """,
    "visitors": """
        visitor,name,role,from,until
        CLASS,Benedikta Oyelaran,surveyor,2027-03-08T02:00,2027-03-14T20:00
    """,
    "weather": """
        issued,time,lat,lon,member,wind_kn,wind_from_deg,gust_kn,wave_height_m,wave_period_s,wave_from_deg,swell_height_m,swell_period_s,swell_from_deg,air_c
        2027-03-07T12:00Z,2027-03-08T00:00Z,,,,12,300,16,0.6,4,300,1.1,10,290,17
        2027-03-07T12:00Z,2027-03-15T00:00Z,,,,12,300,16,0.6,4,300,1.1,10,290,17
    """,
    "readings": """
        entry,time,level,place,oxygen_percent,lfl_percent,hydrocarbon_percent,co2_percent,h2s_ppm,co_ppm,other,fans_off_since,instrument,by
        E2,2027-03-07T16:00,bottom,at the ladder,20.9,0,,0.1,0,0,,,GAS-1,P1
    """,
    "progress": """
        time,what,event,inside,by
        2027-03-07T16:10,E2,closed,0,P1
    """,
}


def small_voyage() -> Tables:
    """The good tables, to be changed at will."""
    return {name: [[cell.strip() for cell in row] for row in csv.reader(_lines(text))] for name, text in _TEXT.items()}


def _lines(text: str) -> list[str]:
    return [line.strip() for line in text.strip().split("\n")]


def tables_of(path: Path) -> Tables:
    """The tables of any voyage folder."""
    tables: Tables = {}
    for table in FILES:
        file = path / table.folder / table.file
        if table.key_value:
            raw = read_toml(file, table.name)
            tables[table.name] = [list(raw.header), *(list(row.cells) for row in raw.rows)]
        elif file.exists():
            tables[table.name] = list(csv.reader(file.read_text(encoding="utf-8-sig").splitlines()))
    return tables


def put(tables: Tables, table: str, row: int, column: str, value: str) -> Tables:
    """The tables with one cell changed; the row as a spreadsheet counts, in key-value tables the key as column."""
    changed = copy.deepcopy(tables)
    rows = changed[table]
    if TABLE_BY_NAME[table].key_value:
        rows[[key for key, _ in rows].index(column)][1] = value
    else:
        rows[row - 1][rows[0].index(column)] = value
    return changed


def write_folder(tables: Tables, path: Path) -> Path:
    """The tables as a voyage folder."""
    for name, rows in tables.items():
        table = TABLE_BY_NAME[name]
        file = path / table.folder / table.file
        file.parent.mkdir(parents=True, exist_ok=True)
        if table.key_value:
            file.write_text("".join(f"{key} = {_toml(value)}\n" for key, value in rows[1:]), encoding="utf-8")
        else:
            with file.open("w", encoding="utf-8", newline="") as out:
                csv.writer(out, lineterminator="\n").writerows(rows)
    return path


def _toml(value: str) -> str:
    return value if value.replace(".", "", 1).isdigit() else '"' + value.replace('"', '\\"') + '"'


def write_workbook(tables: Tables, path: Path) -> Path:
    """The tables as a workbook, numbers as numbers."""
    book = Workbook()
    for name, rows in tables.items():
        sheet = book.create_sheet(name)
        for row, cells in enumerate(rows, 1):
            for column, text in enumerate(cells, 1):
                if text:
                    sheet.cell(row, column, _value(text))
    del book["Sheet"]
    book.save(path)
    return path


def _value(text: str) -> str | float:
    return float(text) if text.replace(".", "", 1).isdigit() else text


def faults_in(path: Path) -> tuple[Fault, ...]:
    """Every fault of a folder or workbook; none when it can be read."""
    try:
        read_folder(path)
    except InputFaults as faults:
        return faults.faults
    return ()
