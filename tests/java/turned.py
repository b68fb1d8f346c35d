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
    Turned("the mirror", "beetle.either_end.routine", r"\? 0\.0 - number", "? number"),
    Turned("a row of a table", "beetle.either_end.routine", r"12\.0 : 36\.0", "36.0 : 12.0"),
    Turned("a command", "moth.first_lamp.routine", r"parts\.signalLight\(\)", "parts.signalDark()"),
    Turned("a target", "moth.two_lamps.routine", r"enterRaise\(\"bumper", r'enterBackOff("bumper'),
    Turned("a limit", "moth.first_tin.routine", r">= seconds\(5\)", ">= seconds(9)"),
)
