"""What a picture shows, read back from the SVG."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import replace

import pytest
from demo import ROUTINES, check
from long_plans import street
from svg_reader import SVG, Drawn, drawn

from planner.findings import Finding, Severity
from planner.graph import ExitKind, unfold
from planner.pictures import picture
from planner.pipeline import Checked
from planner.shell.drawing import render
from planner.text import Place, Source

DEMOS = sorted(path.stem for path in ROUTINES.glob("*.routine"))
SMALL = """
at 20 s of match, go to Dock
start Approach
step Approach "drive to the post"
  claw close
  drive forward 40 %
  when bumper pressed, go to Raise, at most 2 times, then Dock
  after 3 s, go to Dock
step Raise
  arm to 1200 ticks
  when arm done, go to Lit
  after 2 s, go to Dock
finish Lit "the post is lit"
finish Dock
"""


def demo(name: str) -> Checked:
    """A demo routine as checked."""
    return check((ROUTINES / f"{name}.routine").read_text(encoding="utf-8"))


def finding(severity: Severity, *steps: str, headline: str = "something is amiss") -> Finding:
    """A finding that belongs to some steps."""
    place = Place(Source("example.routine", "one\ntwo\n"), 2, 1, 4)
    return Finding("some-check", severity, place, headline, "why", "way out", steps=steps)


def strokes(picture: Drawn, tail: str, head: str) -> list[tuple[str | None, bool]]:
    """Of each line between two steps: its dashes, and whether its arrow head is filled."""
    found = []
    for title, groups in picture.groups("edge").items():
        for group in groups:
            path, arrow = group.find(f"{SVG}path"), group.find(f"{SVG}polygon")
            if _ends(title) == (tail, head) and path is not None and arrow is not None:
                found.append((path.get("stroke-dasharray"), arrow.get("fill") != "none"))
    return found


@pytest.mark.parametrize("name", DEMOS)
def test_every_step_once(name: str) -> None:
    """Every step and finish has one card, with its number, name, title and commands."""
    plan = demo(name).plan
    image = drawn(plan)
    groups = image.groups("node")
    for step in plan.routine.steps.values():
        assert 1 == len(groups[step.name])
        letters = image.letters(step.name)
        assert step.name in letters
        assert "".join(step.title.split()) in letters


@pytest.mark.parametrize("name", DEMOS)
def test_every_exit_once(name: str) -> None:
    """Every exit of a step has one row that names its target; match-clock exits have none."""
    plan = demo(name).plan
    dot = picture(plan)
    image = drawn(plan)
    for step in plan.routine.steps:
        own = [way for way in plan.exits[step] if way.kind is not ExitKind.MATCH]
        label = re.search(rf"^\t*{step} \[label=<(.*)>\]$", dot, re.MULTILINE)
        assert label is not None
        assert len(own) == len(re.findall(r'PORT="way\d+"', label.group(1)))
        named = Counter(re.findall(r"► \d+ ?(\w+)", _frames(image.words(step))))
        assert Counter(way.target for way in own) == named


def _frames(words: str) -> str:
    """The words of a card with the pieces of a broken name put together again."""
    return re.sub(r"(?<=[a-z]) (?=[A-Z])", "", words)


def test_a_card_says_what_the_step_does() -> None:
    """A card holds number, name, title, commands and each exit in the words of the plan."""
    words = drawn(check(SMALL).plan).words("Approach")
    assert (
        "1 Approach drive to the post claw close drive forward 40 % "
        "when bumper pressed, at most 2 times ► 2 Raise then ► 4 Dock after 3 s ► 4 Dock"
    ) == words


def test_heading() -> None:
    """Above the cards stand the routine, its robot, its limit, and the match-clock exit, once."""
    image = drawn(check(SMALL).plan)
    words = image.words()
    assert "routine example · robot moth · limit 30 s · 2 steps · 2 finishes" in words
    assert 1 == words.count("From any step at 20 s of match ► 4 Dock")
    assert 1 == words.count("of match")


def test_the_target_says_from_where() -> None:
    """A card that is reached other than along a line says from which cards, and from any step."""
    image = drawn(check(SMALL).plan)
    assert "4 Dock reached without a line from 1, 2, any step" == image.words("Dock")
    assert "reached" not in image.words("Raise")


def test_settings_stand_in_the_heading() -> None:
    """Each setting is listed above the cards with its number, for cards name it only."""
    text = """setting cruise = 45 %
setting late = 20.5 s
at late of match, go to B
start A
step A
  drive forward -cruise
  after 1 s, go to B
finish B
"""
    image = drawn(check(text).plan)
    assert "with cruise = 45 %, late = 20.5 s" in image.words()
    assert "drive forward -cruise" in image.words("A")


def test_the_legend_explains_what_there_is() -> None:
    """The legend has the kinds of exits that the plan uses, and no others."""
    text = "start A\nstep A\n  after 1 s, go to B\nfinish B\n"
    only_time, all_kinds = drawn(check(text).plan).words(), drawn(check(SMALL).plan).words()
    explained = ("a sensor decides", "the time limit", "the count is used up", "follow the number")
    assert [False, True, False, False] == [words in only_time for words in explained]
    assert [True, True, True, True] == [words in all_kinds for words in explained]


def test_start_and_finish_signs() -> None:
    """The start is a filled disc with an arrow to its step, each finish a filled disc in a ring."""
    image = drawn(check(SMALL).plan)
    (start,) = image.groups("node")["the start"]
    assert ["#000000"] == [disc.get("fill") for disc in start.iter(f"{SVG}ellipse")]
    for finish in ("Lit", "Dock"):
        (end,) = image.groups("node")[f"the end {finish}"]
        assert ["#000000", "none"] == [disc.get("fill") for disc in end.iter(f"{SVG}ellipse")]
    assert [(None, True)] == strokes(image, "below the start", "Approach")


def test_kinds_differ_in_more_than_colour() -> None:
    """Sensor exits, time limits and used-up counts differ in dashes or arrow head."""
    text = """start A
step A
  when bumper pressed, go to B
  after 1 s, go to D
step B
  after 1 s, go to C
step C
  after 1 s, go to B, at most 2 times, then D
finish D
"""
    image = drawn(check(text).plan)
    looks = [*strokes(image, "A", "B"), *strokes(image, "B", "C"), *strokes(image, "C", "D")]
    assert 3 == len(looks) == len(set(looks))
    assert 3 == len({dashes for dashes, _ in looks})


def test_each_frame_is_in_its_stroke() -> None:
    """The frame in an exit's row has the dashes of its kind, whether there is a line or not."""
    dot = picture(check(SMALL).plan)
    (label,) = re.findall(r"^\t*Approach \[label=<(.*)>\]$", dot, re.MULTILINE)
    rows = re.split(r'PORT="way\d"', label)[1:]
    assert [None, "DOTTED", "DASHED"] == [
        found.group(1) if (found := re.search(r'STYLE="(\w+)"', row)) else None for row in rows
    ]


def _ends(title: str) -> tuple[str, ...]:
    """The names of a line's ends, without the ports; the second part of a bent line has both."""
    return tuple(re.sub(r"(:\w+)+|^beside ", "", title).split("->"))


def test_findings_are_marked_on_their_steps() -> None:
    """A step's findings are counted by severity, worst first, with a symbol and the word."""
    plan = check(SMALL).plan
    found = [
        finding(Severity.NOTE, "Raise"),
        finding(Severity.WARNING, "Raise", "Approach"),
        finding(Severity.ERROR, "Raise"),
        finding(Severity.ERROR, "Raise"),
    ]
    image = drawn(plan, found)
    assert "2 Raise ■ 2 errors ▲ 1 warning ○ 1 note arm to" in image.words("Raise")
    assert "▲ 1 warning" in image.words("Approach")
    assert "error" not in image.words("Lit")


def test_findings_of_no_step_stand_in_the_heading() -> None:
    """A finding of no step of the picture is listed with its severity, line and headline."""
    found = [finding(Severity.WARNING), finding(Severity.ERROR, "Nowhere", headline="no such step")]
    words = drawn(check(SMALL).plan, found).words()
    assert "■ error line 2: no such step ▲ warning line 2: something is amiss" in words


def test_many_findings_are_counted() -> None:
    """Where more findings belong to no step than fit, the worst are shown and the rest counted."""
    found = [finding(Severity.NOTE, headline=f"note {number}") for number in range(9)]
    words = drawn(check(SMALL).plan, [*found, finding(Severity.ERROR)]).words()
    assert 5 == words.count("○ note")
    assert "■ error line 2: something is amiss" in words
    assert "and 4 more in the list of findings" in words


def test_same_plan_same_bytes() -> None:
    """The same plan and findings give the same text, in whatever order the findings come."""
    checked = demo("whole_street")
    found = [finding(s, "TakeTin", headline=f"h{n}") for n in range(3) for s in Severity]
    assert picture(checked.plan, found) == picture(checked.plan, reversed(found))


def test_steps_are_in_the_order_of_the_text() -> None:
    """Cards are numbered from the start, then as written, finishes last."""
    text = """start B
finish Z
step A
  after 1 s, go to Z
step B
  after 1 s, go to A
"""
    image = drawn(check(text).plan)
    assert ["1 B", "2 A", "3 Z"] == [image.words(name)[:3] for name in ("B", "A", "Z")]


def test_the_picture_in_words() -> None:
    """The SVG's title is the routine's, and its description says all that the picture shows."""
    checked = check(SMALL)
    root = drawn(checked.plan, [finding(Severity.NOTE, "Raise")]).root
    assert "img" == root.get("role")
    labelled = [
        e for name in root.get("aria-labelledby", "").split() for e in root if e.get("id") == name
    ]
    assert [f"{SVG}title", f"{SVG}desc"] == [element.tag for element in labelled]
    assert "example" == labelled[0].text
    assert [
        "Routine example of robot moth, limit 30 s. It starts at Approach.",
        "From any step, at 20 s of match, go to Dock.",
        "1 Approach: drive to the post; claw close; drive forward 40 %; "
        "when bumper pressed, at most 2 times, go to Raise; then, go to Dock; "
        "after 3 s, go to Dock.",
        "2 Raise: arm to 1200 ticks; when arm done, go to Lit; after 2 s, go to Dock; 1 note.",
        "3 Lit: a finish; the post is lit.",
        "4 Dock: a finish.",
    ] == (labelled[1].text or "").splitlines()


@pytest.mark.parametrize(
    "text",
    [
        "",
        "start Nowhere\nstep A\n  after 1 s, go to B\nfinish B\n",
        "step A\n",
        "finish A\n",
        "start A\nfinish A\n",
        "start A\nstep A\n  after 1 s, go to A\n  after 1 s, go to A\n  after 1 s, go to A\n",
        "start A\nstep A\n  when lever pulled, go to B\n  what\n  after x, go to B\nfinish B\n",
    ],
)
def test_poor_plans_are_drawn(text: str) -> None:
    """A plan without steps, start or finish, with loops or broken lines still has a picture."""
    checked = check(text)
    image = drawn(checked.plan, checked.findings)
    cards = {name for name in image.groups("node") if " " not in name}
    assert set(checked.plan.routine.steps) == cards


def test_long_plans_are_drawn() -> None:
    """A plan of 300 steps has a card for each."""
    plan = check(street(300)).plan
    assert set(plan.routine.steps) == {n for n in drawn(plan).groups("node") if " " not in n}


@pytest.mark.parametrize(
    "title",
    [
        "quotes \" and ' and `",
        "back\\slash \\N\\G \\E \\T \\H \\L \\l \\n",
        "</svg></title><script>alert(1)</script>",
        "%n %s {0} $HOME",
        "\\u0041 &amp; &#65; &lt;",
        "]]> --> <!-- ]]>",
        "שלום עולם",
        "🤖👨‍👩‍👧 é e\u0301",
        "</TD></TABLE>>] ; A -> B",
        "x\\",
    ],
)
def test_hostile_titles_survive(title: str) -> None:
    """Whatever a title holds comes back from the SVG as it was, and adds nothing to the picture."""
    routine = check(SMALL).plan.routine
    step = replace(routine.steps["Approach"], title=title)
    plan = unfold(replace(routine, title=title, steps={**routine.steps, "Approach": step}))
    image, plain = drawn(plan), drawn(check(SMALL).plan)
    assert "".join(title.split()) in image.letters("Approach")
    assert title == image.root.findtext(f"{SVG}title")
    assert title in (image.root.findtext(f"{SVG}desc") or "")
    assert {e.tag for e in plain.root.iter()} == {e.tag for e in image.root.iter()}
    assert plain.groups("node").keys() == image.groups("node").keys()


def test_direction_marks_are_dropped() -> None:
    """Marks that turn the direction of the text after them do not reach the picture."""
    routine = replace(check(SMALL).plan.routine, title="a\u202eb\u2066c")
    assert "abc" == drawn(unfold(routine)).root.findtext(f"{SVG}title")


@pytest.mark.parametrize("letter", ["A", "W", "i", "_", "水", "🤖"])
def test_long_words_do_not_widen_a_card(letter: str) -> None:
    """A title of 200 letters without a space is broken, cut with an ellipsis, and fits its card."""
    routine = check(SMALL).plan.routine
    step = replace(routine.steps["Approach"], title=letter * 200)
    image = drawn(unfold(replace(routine, steps={**routine.steps, "Approach": step})))
    width, height = image.size
    assert (width < 700, height < 500) == (True, True)
    assert letter * 20 in image.letters("Approach")


@pytest.mark.parametrize("name", DEMOS)
def test_golden(name: str, golden: Callable[[str, str], None]) -> None:
    """The DOT text of each demo routine is the one that was last looked at as a picture."""
    checked = demo(name)
    golden(f"pictures/{name}.dot", picture(checked.plan, checked.findings))


def test_the_readme_shows_what_is_drawn() -> None:
    """The SVG that lies beside its routine is the one the tool draws now."""
    checked = demo("first_lamp")
    svg = (ROUTINES / "first_lamp.svg").read_bytes().replace(b"\r\n", b"\n")
    assert render(picture(checked.plan, checked.findings), "svg").decode() == svg.decode()
