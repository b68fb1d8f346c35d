"""The log of a run: what a plan did, as a table that a computer reads back."""

from __future__ import annotations

import csv
import re
from pathlib import Path

from demo import ROOT
from java.playing import Bench

# By hand from TableTop.java: a pass every 33 ms; the range cannot be had from the 31st pass on, and
# reads 5 cm from the 61st; the lift is done and the camera silent from the 81st on. The
# first pass asks it too, for what is remembered until the start.
READINGS = '"mark","bumper","range_front [cm]","drive travelled [cm]","lift done"'
WHY = "bumper pressed or range_front < 8 cm for 0.1 s"
MEMORIES = '"memory way [cm]","memory side","counter tries"'
EXPECTED = f"""\
run log,2,table_top,"side ""left\"""
match_ms,event,lane,step,step_ms,why,{READINGS},{MEMORIES}
0,move,,Approach,0,"the start",unsure,,,0.000,,0.000,left,1
1023,second,,Approach,1023,"",,released,unreadable,10.333,,0.000,left,1
2013,second,,Approach,2013,"",,released,5.000,20.333,,0.000,left,1
2112,move,,Raise,0,"{WHY}",,released,5.000,21.333,,21.333,left,1
3003,second,,Raise,891,"",unreadable,,,,yes,21.333,left,1
3102,cut off,,Raise,990,"",unreadable,,,,yes,21.333,left,1
"""


LANE_READINGS = '"drive travelled [cm]","bumper","lift done","tray"'
OF_LANES = f"""\
run log,2,lanes_top,""
match_ms,event,lane,step,step_ms,why,{LANE_READINGS}
0,move,,Carry,0,"the start",0.000,,,
0,move,wheels,Leave,0,"Carry began",0.000,,,
0,move,lifting,Wait,0,"Carry began",0.000,,,
1000,second,,Carry,1000,"",50.000,,,
1000,second,wheels,Leave,1000,"",50.000,,,
1000,second,lifting,Wait,1000,"",50.000,,,
1220,move,wheels,Creep,0,"drive travelled > 60 cm",61.000,,,
1420,move,lifting,Lift,0,"lane wheels in Creep and drive travelled > 70 cm",71.000,released,,
1800,move,wheels,lane wheels done,0,"bumper pressed",,pressed,no,open
2000,move,,Carry,0,"tray closed",0.000,,no,closed
2000,move,wheels,Leave,0,"Carry began",0.000,,no,closed
2000,move,lifting,Wait,0,"Carry began",0.000,,no,closed
2480,cut off,,Carry,480,"",24.000,,,
2480,cut off,wheels,Leave,480,"",24.000,,,
2480,cut off,lifting,Wait,480,"",24.000,,,
"""


def test_lanes_have_lines_of_their_own(bench: Bench) -> None:
    """Each move of a lane has a line, and once a second so has each lane; by hand, LanesTop.java:
    a pass every 20 ms, one centimetre further each; the operator stops it after 125 of them."""
    assert OF_LANES.splitlines() == bench.lanes_top[1:]


def test_a_line_a_move_and_one_a_second(bench: Bench) -> None:
    """Each move and each second has a line with what the pass looked at, and so has a cut-off."""
    assert EXPECTED.splitlines() == bench.table_top[4:]


def test_any_table_program_reads_it(bench: Bench) -> None:
    """The lines are comma-separated values as everybody reads them, each with all columns."""
    first, columns, *rows = csv.reader(bench.table_top[4:])

    assert ["run log", "2", "table_top", 'side "left"'] == first
    assert {len(columns)} == {len(row) for row in rows}


def test_an_op_mode_leaves_a_file(bench: Bench) -> None:
    """Each run of an op mode that was started leaves a file with its name and the log in it."""
    files = sorted(bench.compiled.classes.with_name("run logs").glob("*.csv"))
    heads = {path.read_text(encoding="utf-8").partition("\n")[0] for path in files}

    assert [] == [path.name for path in files if not re.fullmatch(r"\w+-\d+\.csv", path.name)]
    assert 'run log,2,hardware,""' in heads


def test_the_readme_names_every_column() -> None:
    """The README says what the version, the events and the columns of a run log are."""
    readme = Path(ROOT / "README.md").read_text(encoding="utf-8")
    section = readme.partition("### The log of a run")[2].partition("\n## ")[0]

    words = (
        "run log,2",
        "`match_ms`",
        "`event`",
        "`lane`",
        "`step`",
        "`step_ms`",
        "`why`",
        "`move`",
    )
    words += (
        "one for each memory and counter",
        "`memory far [cm]`",
        "`counter shots`",
        "`second`",
        "`cut off`",
        "`unreadable`",
        "adb pull /sdcard/run_logs",
    )
    assert [] == [word for word in words if word not in section]
