"""Exported plans with one rule turned round, which something must notice."""

from __future__ import annotations

import re
from dataclasses import dataclass


@dataclass(frozen=True)
class Turned:
    """A change to the Java of a plan, by regular expression: as a rule in its first match."""

    rule: str
    plan: str
    """The scenario whose plan it is, or `CHOICES`."""
    old: str
    new: str

    times: int = 1
    """How many matches are changed; 0 for all of them."""

    def of(self, java: str) -> str:
        """The plan's Java with the change in it."""
        changed, times = re.subn(self.old, self.new, java, count=self.times)
        assert times, f"{self.rule}: nothing to turn round"
        return changed


CHOICES = "choices"

TURNED = (
    # The core.
    Turned("at T, not past it", "m2_at_or_past", r"timeInStep\(\) >=", "timeInStep() >"),
    Turned("the limit counts at T", "m11_stop", r"\n        off = true;", ""),
    Turned(
        "the sensor wins over the limit",
        "m4_sensor_wins",
        r"if \(isBumperPressed\(\)\)",
        "if (isBumperPressed() && timeInStep() < seconds(1))",
    ),
    Turned(
        "one move a pass",
        "m3_one_move_a_pass",
        r"enterB\(\"bumper pressed\"\);",
        r'enterB("bumper pressed"); askStep();',
    ),
    # Groups.
    Turned(
        "outer before inner",
        "m4_groups_outer_first",
        r"if \(tookExitOfCycle\(\)\) \{",
        "if (!isTrayClosed() && tookExitOfCycle()) {",
    ),
    Turned(
        "the match clock before all",
        "m4_groups_outer_first",
        r"if \(!leftByMatchClock\(\)\) \{\s*askStep\(\);",
        "askStep();\n            if (stepStarted != now) {\n                leftByMatchClock();",
    ),
    Turned(
        "a group's clock lasts",
        "m2_group_clock",
        r"(enterB\(String(?s:.*?))if \(!in\w+\)",
        r"\1if (true)",
    ),
    Turned(
        "a group's clock starts with it",
        "m2_group_clock",
        r"(private void start\w+\(\) \{(?s:.*?))\w+Started = now;",
        r"\1",
    ),
    Turned(
        "a group's memory lasts",
        "m5_group_memory",
        r"(enterB\(String(?s:.*?))if \(!in\w+\)",
        r"\1if (true)",
    ),
    Turned("a group's memory begins anew", "m5_group_memory", r"\w+BumperHeld\.restart\(\);", ""),
    Turned(
        "a group's exit leaves it",
        "m4_group_left_by_own_exit",
        r"(private boolean tookExitOf\w+\(\) \{(?s:.*?))in\w+ = false;",
        r"\1",
    ),
    Turned(
        "only its own group's exit is spent",
        "m4_group_match_exit_outside",
        r"(private boolean leftByMatchClock\(\) \{)",
        r"\1 if (step == Step.OUT) { cycleMatchExitToOutTaken = true; }",
    ),
    Turned("what ran for the step ends", "m7_group_leaves", r"endBelt\(\);", ""),
    # Tasks and counts.
    Turned("counts start with a task", "m9_task_again", r"firstRaiseToFirstRaiseTimes = 0;", ""),
    Turned("each round counts anew", "task_rounds", r"(= 0;(?s:.*?)= 0;(?s:.*?))\w+ = 0;", r"\1"),
    Turned(
        "at most N times", "task_rounds", r"firstRoundCountTimes < 2", "firstRoundCountTimes < 3"
    ),
    Turned(
        "exits of one outcome share a count",
        "m9_outcome_counts",
        r"(private void inFirstDrop(?s:.*?))firstStuckTimes\+\+;",
        r"\1",
    ),
    # Side rules.
    Turned(
        "a rule tells when it becomes true",
        "m12_becomes_true",
        r"if \(!aGateRuleWasTrue\)",
        "if (true)",
    ),
    Turned(
        "a rule begins anew",
        "m12_becomes_true",
        r"(enterA(?s:.*?))aGateRuleWasTrue = false;",
        r"\1",
    ),
    Turned("rules come before exits", "m12_entered_step_wins", r"followRules\(\);", ""),
    Turned(
        "the entered step has the last word",
        "m12_entered_step_wins",
        r"(private void enter\w+\((?s:.*?))signalDue = Order.NOTHING;",
        r"\1",
    ),
    Turned("what a rule started ends", "m12_runs_end", r"driveRunsFor = RunsFor.CYCLE;", ""),
    Turned("a step's rule ends with it", "m12_runs_end", r"endClaw\(\);", ""),
    # Memories and counters.
    Turned(
        "remembered before the next step",
        "m13_order",
        r"(private void inA\(\) \{(?s:.*?))rememberA\(\);\s*(enterB\([^;]*;)",
        r"\1\2 rememberA();",
    ),
    Turned(
        "remembered by whatever exit",
        "m13_order",
        r"(private boolean tookExitOfRound\(\) \{(?s:.*?))rememberStep\(\);",
        r"\1",
    ),
    Turned(
        "the match clock lets remember",
        "m13_order",
        r"(private boolean leftByMatchClock\(\) \{(?s:.*?))rememberStep\(\);",
        r"\1",
    ),
    Turned(
        "remembered in the order written",
        "m13_order",
        r"(beforeTicks = heightTicks;)((?s:.*?))(heightTicks = heightTicks \+ 50.0;)",
        r"\3\2\1",
    ),
    Turned("only what is left remembers", "m13_only_what_is_left", r"if \(inGo\) \{", "{"),
    Turned(
        "inner ones remember first",
        "m13_task_left",
        r"rememberGoOne\(\);(\s*)rememberGo\(\);",
        r"rememberGo();\1rememberGoOne();",
    ),
    Turned(
        "what cannot be had changes nothing",
        "m13_unknown",
        r"Numbers\.known\(([^;]*), farCm\);",
        r"\1;",
    ),
    Turned(
        "an answer that is none of the words",
        "m13_unknown",
        r"return side;",
        "return Side.LEFT;",
    ),
    Turned(
        "from this step's start",
        "m13_number",
        r"known\(driveTravelledCmSinceEntry\(\), ",
        "known(driveTravelledCm(), ",
    ),
    Turned(
        "a task's own start",
        "m13_task",
        r"driveTravelledCmAtGo = driveTravelledCm\(\);",
        "",
    ),
    Turned(
        "the first pass looks too",
        "m13_seen_by",
        r"(matchStarted = now;\s*)rememberSeen\(\);",
        r"\1",
    ),
    Turned("until the start alone", "m13_seen_by", r"step == null && !off", "!off"),
    Turned("as it was when told", "m13_rule", r"liftToHeightTicksDue\);", "2.0 * heightTicks);"),
    Turned("a row of its word", "m13_table", r"case LEFT:", "case RIGHT:", 0),
    Turned(
        "the short way round",
        "m13_wraps",
        r"Numbers\.withinTurn\((.*?), 360\.0\)",
        r"Numbers.within(\1)",
        0,
    ),
    Turned("unknown is not outside", "m13_wraps", r"Numbers\.outsideTurn", "!Numbers.withinTurn"),
    Turned("a memory is more", "m13_number", r"farCm > 40\.0", "farCm < 40.0"),
    Turned("a memory is not that word", "m13_seen_by", r"side != Side\.LEFT", "side == Side.LEFT"),
    Turned("taken away", "m13_number", r"5\.0 - farCm", "5.0 + farCm"),
    Turned("counted down", "m14_counts", r"shots - 1", "shots - 2"),
    Turned("never below the range", "m14_counts", r"Math\.max\(0, shots - 1\)", "shots - 1", 0),
    Turned("never above the range", "m14_counts", r"Math\.min\(3, shots \+ 1\)", "shots + 1", 0),
    Turned(
        "counted on entry", "m14_counts", r"(private void enterA\((?s:.*?))shots = [^;]*;", r"\1"
    ),
    Turned("counted from a number", "m14_counts", r"shots = 2;", "shots = 0;"),
    Turned("a counter is that", "m14_counts", r"shots == 0", "shots != 0"),
    Turned("a counter is not that", "m14_counts", r"shots > 2", "shots > 3"),
    Turned(
        "no round counts for the step",
        "m14_task",
        r"(private void enterGoOne\((?s:.*?))(tries = [^;]*;)",
        r"\1\2 \2",
    ),
    # An exit of a task in a task.
    Turned(
        "the task around ends too",
        "m9_inner_step_ends_outer",
        r"leaveFirst\(\);(\s*enterFirstBegin\(\"after 1 s\"\))",
        r"inFirstHalf = false;\1",
    ),
    Turned(
        "a clock ends the task around too",
        "m9_match_exit_ends_task",
        r"leaveFirst\(\);(\s*enterFirstRaise\(\"2 s)",
        r"leaveFirstBoth();\1",
    ),
    Turned(
        "its counts begin anew",
        "m9_inner_step_ends_outer",
        r"firstBeginToFirstHalf\w*Times = 0;",
        "",
    ),
    Turned(
        "lanes see what earlier ones remember",
        "m13_lanes",
        r"(askCarryFirst)(\(\);\s+if \(lanesGoOn\) \{\s+)(askCarrySecond)",
        r"\3\2\1",
    ),
    Turned(
        "every lane remembers when the block is left",
        "m13_lanes",
        r"(tookExitOfCarry\(\) \{(?s:.*?))rememberStep\(\);",
        r"\1",
    ),
    Turned(
        "other lanes remember when one leads out",
        "m13_lane_leads_out",
        r"(private boolean tookExitOfC\(\) \{(?s:.*?))rememberStep\(\);",
        r"\1",
    ),
    Turned(
        "a lane's move lets that lane alone remember",
        "m13_lanes",
        r"(tookExitOfLate\(\) \{(?s:.*?))if \(carrySecond\.step == Step\.D\) \{ rememberD\(\); \}",
        r"\1 rememberD(); rememberB();",
    ),
    # Lanes.
    Turned(
        "lanes in the order written",
        "m8_leads_out",
        r"(askCarryFirst)(\(\);\s+if \(lanesGoOn\) \{\s+)(askCarrySecond)",
        r"\3\2\1",
    ),
    Turned(
        "a block's exits before its lanes",
        "m8_block_first",
        r"if (\(tookExitOfCarry\(\)\) \{\s+)return;(\s+\})((?s:.*?))(\n    \}\n)",
        r"\3 if (lanesGoOn && tookExitOfCarry()) { return; }\4",
    ),
    Turned(
        "no lane moves after one has led out",
        "m8_starts_again",
        r"if \(lanesGoOn\)",
        "if (true)",
    ),
    Turned(
        "each lane starts with its block",
        "m8_starts_again",
        r"carrySecond\.step = null;((?s:.*?))(enterC\(\"Carry began\"\);)",
        r"\1 if (carrySecond.step == null) { \2 }",
    ),
    Turned(
        "a block's memories begin anew",
        "m8_entered_anew",
        r"carryTrayOnce\.restart\(\);",
        "",
    ),
    Turned(
        "lanes are seen as the pass began",
        "m8_as_it_began",
        r"carryFirst\.before ([!=])=",
        r"carryFirst.step \1=",
        0,
    ),
    Turned(
        "a lane's clock is its own",
        "m8_clocks_apart",
        r"now - carrySecond\.started",
        "timeInStep()",
        0,
    ),
    Turned(
        "a lane counts from its own step",
        "m8_clocks_apart",
        r"(enterB\(String(?s:.*?))(driveTravelledCmAtEntryInCarryFirst = )",
        r"\1driveTravelledCmAtEntryInCarrySecond = \2",
    ),
    Turned(
        "what a lane runs ends with its own step",
        "m8_lanes_begin",
        r"driveRunsFor = RunsFor\.CARRY_HANDS;",
        "driveRunsFor = RunsFor.CARRY_WHEELS;",
    ),
    Turned(
        "what lanes run ends with the block",
        "m8_leads_out",
        r"\|\| beltRunsFor == RunsFor\.CARRY_SECOND && carrySecond\.step == null",
        "",
    ),
    Turned(
        "the later lane has its way",
        "m8_lanes_begin",
        r"(void driveForward\(double powerPercent\) \{)(\s+drive = )",
        r"\1 if (drive != Order.NOTHING) { return; }\2",
    ),
    Turned(
        "only the last is sent",
        "m8_leads_out",
        r"told\.driveForward\(20",
        "parts.driveForward(20",
    ),
    Turned(
        "rules of lanes in their order",
        "m8_rules",
        r"(if \(carryFirst\.step == Step\.A\) \{\s+\w+\(\);\s+\})((?s:.*?))"
        r"(if \(inHeld\) \{\s+\w+\(\);\s+\})",
        r"\3\2\1",
    ),
    Turned(
        "in a lane a match-clock exit is spent when it is asked",
        "m8_spent_in_lane",
        r"(private void inCarry\(\) \{)",
        r"\1 if (carryFirst.step == Step.B && timeInMatch() >= seconds(2)) {"
        " cycleMatchExitToBTaken = true; }",
    ),
    Turned(
        "in a lane a match-clock exit is spent in its target",
        "m8_groups_in_lanes",
        r"(private void askCarryFirst\(\) \{(?s:.*?))\w+Taken = true;",
        r"\1",
    ),
    # Choices.
    Turned("blue mirrors", CHOICES, r"alliance == Alliance\.BLUE", "alliance == Alliance.RED"),
    Turned("two mirror words turn it twice", CHOICES, r" \^ ", " || "),
    Turned("a mirrored number", CHOICES, r"\? 0\.0 - number : number", "? number : 0.0 - number"),
    Turned("a mirrored command", CHOICES, r"driveTurn\(mirrored\((\w+)\)\)", r"driveTurn(\1)"),
    Turned("a mirrored reading", CHOICES, r"mirrored\(gyroDegrees\(\)\) <", "gyroDegrees() <"),
    Turned(
        "the first word is normal",
        CHOICES,
        r"this\(parts, Alliance.RED",
        "this(parts, Alliance.BLUE",
    ),
    Turned("the normal number", CHOICES, r"millis\(500\), 40\.0", "millis(300), 40.0"),
    Turned(
        "a row of a setting",
        CHOICES,
        r"\? millis\(10300\) : millis\(9800\)",
        "? millis(9800) : millis(10300)",
    ),
    Turned("a setting's sign", CHOICES, r"\(-powerPercent\)", "(powerPercent)"),
    Turned("not more than the range", CHOICES, r"Math.min\(60.0, powerPercent\)", "powerPercent"),
    Turned("what was chosen", CHOICES, r"== StepChoice\.NEW(?! \?)", "!= StepChoice.NEW"),
    Turned(
        "what was not chosen", CHOICES, r"alliance != Alliance\.RED", "alliance == Alliance.RED"
    ),
    Turned("the earlier limit first", CHOICES, r" && [\w().]+ <=? soonTime(?=\)| )", "", 0),
    Turned("the earlier clock first", CHOICES, r" && \(matchExitToSettleTaken [^)]*\)[^)]*\)", ""),
    Turned("a time that is chosen", CHOICES, r"new Held\(this.delay\)", "new Held(seconds(1))"),
)

# Of the gallery: plans that no longer do what their scenarios demand.
RED = (
    Turned("only after", "moth.first_lamp.routine", r"parts\.clawOpen\(\);", ""),
    Turned(
        "never at once",
        "moth.first_lamp.routine",
        r"(private void enterRaise\((?s:.*?))endDrive\(\);",
        r"\1",
    ),
    Turned("leads to", "moth.two_lamps.routine", r"armTo\(0\.0\)", "armTo(5.0)", 0),
    Turned("a row of a memory", "moth.three_tins.routine", r"return 400\.0;", "return 900.0;"),
    Turned("counted down", "moth.three_tins.routine", r"tins - 1", "tins - 3"),
    Turned("how far it has come", "beetle.rest_of_the_way.routine", r"60\.0 - soFarIn\w*", "60.0"),
    Turned("the mirror", "beetle.either_end.routine", r"\? 0\.0 - number", "? number"),
    Turned("a row of a table", "beetle.either_end.routine", r"12\.0 : 36\.0", "36.0 : 12.0"),
    Turned("a command", "moth.first_lamp.routine", r"parts\.signalLight\(\)", "parts.signalDark()"),
    Turned("a target", "moth.two_lamps.routine", r"enterRaise\(\"bumper", r'enterBackOff("bumper'),
    Turned(
        "all lanes done",
        "moth.side_by_side.routine",
        r"carryWheels\.before == Step\.CARRY_WHEELS_DONE && ",
        "",
    ),
    Turned("a limit", "moth.first_tin.routine", r">= seconds\(5\)", ">= seconds(9)"),
)
