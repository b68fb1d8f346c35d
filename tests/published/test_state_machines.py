"""The plan's meaning beside that of SCXML, GRAFCET and SFC, case by case.

Each row is a small case of a published standard, hand-translated to a plan. It says what a machine
of that standard would do, what ours does, and whether that is the same or different by design, and
by which rule of our meaning. What ours does is played, and the verdict follows from the two runs.

Sources: W3C, State Chart XML (SCXML), Recommendation of 1 September 2015, and the tests of its
implementation report by number, their intent only; IEC 60848 (GRAFCET), the five rules of evolution
as two course pages give them, the standard itself not seen; IEC 61131-3 (SFC), the selection of
sequences as two vendors' manuals give it, the standard itself not seen.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import pytest
from demo import ROOT, check
from played import HEAD, machine, spoken

from planner.checks.reading import READING
from planner.rehearsal import World

SAME, DIFFERENT = "same", "different by design"
LAST_MS = 1500


@dataclass(frozen=True)
class Case:
    """One published case and what the two meanings make of it."""

    name: str
    verdict: str
    rule: str
    why: str
    plan: str
    theirs: tuple[str, ...]
    ours: tuple[str, ...]
    cues: dict[int, dict[str, str]] = field(default_factory=dict)
    """What the sensors say from a moment on, in ms; a pass is made every 100 ms."""


def run(case: Case) -> tuple[str, ...]:
    """What the plan of a case does, each thing in a few words with its time in ms."""
    playing = machine(case.plan)
    world = World(playing.plan.routine.robot)
    events = []
    for now_ms in range(0, LAST_MS + 1, 100):
        for reading, value in case.cues.get(now_ms, {}).items():
            world.set(reading, value)
        events.extend(playing.pass_(now_ms * 1000, world.readings()))
        world.take(events)
    return tuple(spoken(event) for event in events)


BOTH = {"bumper": "pressed", "tin_gate": "broken"}
NEITHER = {"bumper": "released", "tin_gate": "clear"}
ENDS = "\nfinish F\nfinish G"

CASES = (
    Case(
        "SCXML document order, smallest case",
        SAME,
        "M4",
        "of two exits that are true at once the one written first is taken",
        "step A; when bumper pressed, go to F; when bumper pressed or tin_gate broken, go to G"
        + ENDS,
        theirs=("0 enter A", "100 leave A by when", "100 enter F", "100 finish F"),
        ours=("0 enter A", "100 leave A by when", "100 enter F", "100 finish F"),
        cues={100: BOTH},
    ),
    Case(
        "SCXML test 144, events are taken in the order they came, and kept until then",
        DIFFERENT,
        "M1",
        "there is no queue: what a sensor said in one pass is not kept for the next",
        "step A; when bumper pressed, go to B\nstep B; when tin_gate broken, go to F" + ENDS,
        theirs=(
            "0 enter A",
            "100 leave A by when",
            "100 enter B",
            "200 leave B by when",
            "200 enter F",
            "200 finish F",
        ),
        ours=("0 enter A", "100 leave A by when", "100 enter B"),
        cues={100: BOTH, 200: NEITHER},
    ),
    Case(
        "SCXML test 158, what is to be done on entry is done in document order",
        SAME,
        "M7",
        "a step's commands are given in the order written",
        "step A; claw open; arm to 5 ticks; signal light; when bumper pressed, go to F" + ENDS,
        theirs=("0 enter A", "0 claw open", "0 arm to 5 ticks", "0 signal light"),
        ours=("0 enter A", "0 claw open", "0 arm to 5 ticks", "0 signal light"),
    ),
    Case(
        "SCXML test 403a, a transition of the inner state comes before one of the outer",
        DIFFERENT,
        "M4",
        "outer exits come first: a deadline must not be starved by what stands inside",
        "group O; when bumper pressed, go to G\n  step A\n    when bumper pressed, go to F" + ENDS,
        theirs=("0 enter A", "100 leave A by when", "100 enter F", "100 finish F"),
        ours=("0 enter A", "100 leave A by when", "100 enter G", "100 finish G"),
        cues={100: BOTH},
    ),
    Case(
        "SCXML test 403b, a transition of an outer state is taken once for all that is inside",
        SAME,
        "M3",
        "an exit of a group is one exit, however many steps stand in it",
        "group O; when bumper pressed, go to B, at most 1 time, then G\n  step A\n"
        "    when tin_gate broken, go to B\n  step B\n    when tin_gate broken, go to A" + ENDS,
        theirs=("0 enter A", "100 leave A by when", "100 enter B"),
        ours=("0 enter A", "100 leave A by when", "100 enter B"),
        cues={100: {"bumper": "pressed"}, 200: NEITHER},
    ),
    Case(
        "SCXML test 404, states are left inner ones first, each with what is to be done on exit",
        DIFFERENT,
        "M7",
        "a step has nothing to do on exit: what runs is switched off, in the order it was given",
        "group O; whenever tin_gate broken, roller take; when bumper pressed, go to F\n  step A\n"
        "    when arm_floor pressed, go to B\n  step B\n    drive forward 40 %\n"
        "    when arm_floor released, go to F" + ENDS,
        theirs=(
            "0 enter A",
            "100 roller take",
            "200 leave A by when",
            "200 enter B",
            "200 drive forward 40 %",
            "300 leave B by when",
            "300 enter F",
            "300 drive off",
            "300 roller off",
            "300 finish F",
        ),
        ours=(
            "0 enter A",
            "100 roller take",
            "200 leave A by when",
            "200 enter B",
            "200 drive forward 40 %",
            "300 leave B by when",
            "300 enter F",
            "300 roller off",
            "300 drive off",
            "300 finish F",
        ),
        cues={
            100: {"tin_gate": "broken"},
            200: {"arm_floor": "pressed"},
            300: {"arm_floor": "released", "bumper": "pressed"},
        },
    ),
    Case(
        "SCXML test 405, what is to be done on exit comes before what is to be done on entry",
        SAME,
        "M7",
        "what ran is switched off before the next step's commands are sent",
        "step A; drive forward 40 %; when bumper pressed, go to B\n"
        "step B; roller take; when tin_gate broken, go to F" + ENDS,
        theirs=(
            "0 enter A",
            "0 drive forward 40 %",
            "100 leave A by when",
            "100 enter B",
            "100 drive off",
            "100 roller take",
        ),
        ours=(
            "0 enter A",
            "0 drive forward 40 %",
            "100 leave A by when",
            "100 enter B",
            "100 drive off",
            "100 roller take",
        ),
        cues={100: {"bumper": "pressed"}},
    ),
    Case(
        "SCXML test 406, outer states are entered before inner ones",
        SAME,
        "M2",
        "a group is active no later than its step: its clock runs out no later than the step's",
        "group O; after 1 s, go to F\n  step A\n    after 1 s, go to G" + ENDS,
        theirs=("0 enter A", "1000 leave A by after", "1000 enter F", "1000 finish F"),
        ours=("0 enter A", "1000 leave A by after", "1000 enter F", "1000 finish F"),
    ),
    Case(
        "SCXML test 417, a parallel state is done when all that is in it is done",
        DIFFERENT,
        "M8",
        "lanes are asked about as they stood when the pass began: the join comes a pass later",
        "together A; when all lanes done, go to F\n  lane one\n    step P\n"
        "      when bumper pressed, go to done\n  lane two\n    step Q\n"
        "      when tin_gate broken, go to done" + ENDS,
        theirs=(
            "0 enter A",
            "0 enter P",
            "0 enter Q",
            "100 leave P by when",
            "100 enter A one done",
            "300 leave Q by when",
            "300 enter A two done",
            "300 leave A by when",
            "300 enter F",
            "300 finish F",
        ),
        ours=(
            "0 enter A",
            "0 enter P",
            "0 enter Q",
            "100 leave P by when",
            "100 enter A one done",
            "300 leave Q by when",
            "300 enter A two done",
            "400 leave A by when",
            "400 enter F",
            "400 finish F",
        ),
        cues={100: {"bumper": "pressed"}, 300: {"tin_gate": "broken"}},
    ),
    Case(
        "SCXML test 403c, of two lanes that would leave the block the first one does",
        SAME,
        "M8",
        "lanes are asked in the order written, and who is left is not asked any more",
        "together A; after 9 s, go to G\n  lane one\n    step P\n"
        "      when bumper pressed, go to F\n"
        "  lane two\n    step Q\n      when bumper pressed, go to G" + ENDS,
        theirs=(
            "0 enter A",
            "0 enter P",
            "0 enter Q",
            "100 leave P by when",
            "100 enter F",
            "100 finish F",
        ),
        ours=(
            "0 enter A",
            "0 enter P",
            "0 enter Q",
            "100 leave P by when",
            "100 enter F",
            "100 finish F",
        ),
        cues={100: {"bumper": "pressed"}},
    ),
    Case(
        "GRAFCET rule 4 in lanes, transitions that can be cleared at once are",
        SAME,
        "M8",
        "each lane makes its move in the same pass",
        "together A; after 9 s, go to G\n  lane one\n    step P\n"
        "      when bumper pressed, go to P2\n"
        "    step P2\n      after 9 s, go to done\n  lane two\n    step Q\n"
        "      when bumper pressed, go to Q2\n    step Q2\n      after 9 s, go to done" + ENDS,
        theirs=(
            "0 enter A",
            "0 enter P",
            "0 enter Q",
            "100 leave P by when",
            "100 enter P2",
            "100 leave Q by when",
            "100 enter Q2",
        ),
        ours=(
            "0 enter A",
            "0 enter P",
            "0 enter Q",
            "100 leave P by when",
            "100 enter P2",
            "100 leave Q by when",
            "100 enter Q2",
        ),
        cues={100: {"bumper": "pressed"}},
    ),
    Case(
        "SCXML test 419, a transition that waits for nothing comes before one that waits",
        DIFFERENT,
        "M4",
        "a sensor that speaks in the pass in which the time is out wins",
        "step A; after 0 s, go to G; when bumper pressed, go to F" + ENDS,
        theirs=("0 enter A", "100 leave A by after", "100 enter G", "100 finish G"),
        ours=("0 enter A", "100 leave A by when", "100 enter F", "100 finish F"),
        cues={100: BOTH},
    ),
    Case(
        "SCXML test 421, what the machine tells itself comes before what it is told from outside",
        DIFFERENT,
        "M4",
        "the end of a task is asked for after the exits of the step that does it",
        "step A; do wait; when task ends over, go to F; when bumper pressed, go to G"
        + ENDS
        + "\ntask wait ends over\n  step W\n    when bumper pressed, go to over",
        theirs=("0 enter A.W", "100 leave A.W by when", "100 enter F", "100 finish F"),
        ours=("0 enter A.W", "100 leave A.W by when", "100 enter G", "100 finish G"),
        cues={100: BOTH},
    ),
    Case(
        "SCXML test 185, a delay is kept to, and the shorter one is over first",
        SAME,
        "M2",
        "the clock of a step decides, not the order in which its limits are written",
        "step A; after 1.1 s, go to G; after 1 s, go to F" + ENDS,
        theirs=("0 enter A", "1000 leave A by after", "1000 enter F", "1000 finish F"),
        ours=("0 enter A", "1000 leave A by after", "1000 enter F", "1000 finish F"),
    ),
    Case(
        "SCXML test 208, a delay that is cancelled never ends",
        SAME,
        "M2",
        "leaving a step ends its clock; coming back begins a new one",
        "step A; when bumper pressed, go to B; after 1 s, go to G\n"
        "step B; when bumper released, go to A; after 2 s, go to G" + ENDS,
        theirs=(
            "0 enter A",
            "900 leave A by when",
            "900 enter B",
            "1000 leave B by when",
            "1000 enter A",
        ),
        ours=(
            "0 enter A",
            "900 leave A by when",
            "900 enter B",
            "1000 leave B by when",
            "1000 enter A",
        ),
        cues={900: {"bumper": "pressed"}, 1000: {"bumper": "released"}},
    ),
    Case(
        "GRAFCET rule 1, the initial steps are active at the start",
        SAME,
        "M2",
        "the start is active from the first pass on, whatever the sensors say",
        "step A; when bumper released, go to F" + ENDS,
        theirs=("0 enter A", "100 leave A by when", "100 enter F", "100 finish F"),
        ours=("0 enter A", "100 leave A by when", "100 enter F", "100 finish F"),
    ),
    Case(
        "GRAFCET rule 2, an enabled transition whose condition is true has to be cleared",
        SAME,
        "M4",
        "a true exit is taken in the very pass in which it is true",
        "step A; when bumper pressed, go to B\nstep B; when tin_gate broken, go to F" + ENDS,
        theirs=("0 enter A", "300 leave A by when", "300 enter B"),
        ours=("0 enter A", "300 leave A by when", "300 enter B"),
        cues={300: {"bumper": "pressed"}},
    ),
    Case(
        "GRAFCET rule 3, steps are left and entered at once",
        SAME,
        "M3",
        "one pass leaves the one step and enters the other",
        "step A; roller take; when bumper pressed, go to B\n"
        "step B; roller drop; when tin_gate broken, go to F" + ENDS,
        theirs=(
            "0 enter A",
            "0 roller take",
            "100 leave A by when",
            "100 enter B",
            "100 roller drop",
        ),
        ours=(
            "0 enter A",
            "0 roller take",
            "100 leave A by when",
            "100 enter B",
            "100 roller drop",
        ),
        cues={100: {"bumper": "pressed"}},
    ),
    Case(
        "GRAFCET rule 4 in a divergence, what can be cleared at once is: it forks",
        DIFFERENT,
        "M4",
        "one exit is taken and the others are forgotten: a robot cannot do both",
        "step A; when bumper pressed, go to F; when tin_gate broken, go to G" + ENDS,
        theirs=("0 enter A", "100 leave A by when", "100 enter F", "100 enter G"),
        ours=("0 enter A", "100 leave A by when", "100 enter F", "100 finish F"),
        cues={100: BOTH},
    ),
    Case(
        "GRAFCET rule 5, a step that is left and entered at once stays active",
        DIFFERENT,
        "M7",
        "a step that leads to itself is entered anew: its commands are given again",
        "step A; claw open; when bumper pressed, go to A; after 1 s, go to F" + ENDS,
        theirs=(
            "0 enter A",
            "0 claw open",
            "1000 leave A by after",
            "1000 enter F",
            "1000 finish F",
        ),
        ours=("0 enter A", "0 claw open", "900 leave A by when", "900 enter A", "900 claw open"),
        cues={900: {"bumper": "pressed"}, 1000: {"bumper": "released"}},
    ),
    Case(
        "SFC, selection of sequences: of several true transitions the leftmost is taken",
        SAME,
        "M4",
        "what stands further left there is written further up here",
        "step A; when tin_gate broken, go to G; when bumper pressed, go to F" + ENDS,
        theirs=("0 enter A", "100 leave A by when", "100 enter G", "100 finish G"),
        ours=("0 enter A", "100 leave A by when", "100 enter G", "100 finish G"),
        cues={100: BOTH},
    ),
)


def named(case: Case) -> str:
    """The case's name, to tell its test by."""
    return case.name.partition(",")[0]


@pytest.mark.parametrize("case", CASES, ids=named)
def test_the_run(case: Case) -> None:
    """The plan of each case does what the table says."""
    assert case.ours == run(case)


@pytest.mark.parametrize("case", CASES, ids=named)
def test_the_plan(case: Case) -> None:
    """The plan of each case says what it means to say: every word in it is understood."""
    found = {finding.check for finding in check(HEAD + case.plan.replace("; ", "\n  ")).findings}
    assert set() == found & {reading.name for reading in READING}


@pytest.mark.parametrize("case", CASES, ids=named)
def test_the_verdict(case: Case) -> None:
    """A case is the same where the two runs are, and different where they differ."""
    assert case.verdict == (SAME if case.theirs == run(case) else DIFFERENT)


def test_every_verdict_names_a_rule_of_the_meaning() -> None:
    """The rule that a case rests on stands in the reference."""
    reference = (ROOT / "grammar" / "README.md").read_text(encoding="utf-8")
    assert [] == [case.rule for case in CASES if f"- **{case.rule}, " not in reference]
