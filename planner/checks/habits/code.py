"""Lines of Java or Python that got into a plan."""

from __future__ import annotations

from planner.checks.habits.habit import NAME, Habit

_LESSON = (
    "A plan has no program code in it: it says what the robot does in each step and what ends the "
    "step. The Java is written from it afterwards."
)

CODE: tuple[Habit, ...] = (
    Habit(
        r"^[{}]+$",
        "",
        "plans have no braces",
        "Indentation shows what belongs together. Delete this line.",
    ),
    Habit(
        r"^(?:public|private|protected|static|void|import|package|class|def|return|break|continue|"
        r"switch|case|try|catch|except|int|double|float|boolean|bool|String|final|var|enum|new|"
        r"for|print|loop|repeat|function|@\w+)\b.*$",
        None,
        "this is a line of a program, not of a plan",
        _LESSON,
    ),
    Habit(
        rf"^(?:{NAME}\s*=\s*)?(?:{NAME}\.)*{NAME}\s*\(.*$",
        None,
        "this is a line of a program, not of a plan",
        _LESSON,
        rules=("step_line", "finish_line", "file_line"),
    ),
    Habit(
        rf"^{NAME}\s*(?:=|\+=|-=|\+\+|--)\s*.*$",
        None,
        "a plan does not change a number like that",
        "To keep a number for later, declare `memory far = 60 cm` at the top, and write `remember "
        "drive travelled as far` in the step. To count, `count shots down`; to count tries, an "
        "exit has `, at most 2 times, then GiveUp`.",
        rules=("step_line", "finish_line"),
    ),
)
