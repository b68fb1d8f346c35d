"""What a student can type in a run by hand, and what is said about a slip."""

from __future__ import annotations

import pytest
from demo import check

from planner.rehearsal.handles import Handle, handles
from planner.rehearsal.orders import GO_ON, Save, Set, Unclear, Wait, Word, order, phrases
from planner.rehearsal.world import World

PLAN = check(
    "start A\nstep A\n  arm to 100 ticks\n  when bumper pressed, go to B\n"
    "  when range_front < 8 cm, go to B\n  when arm done, go to B\n"
    "  when floor_eye sees red, go to B\n  when drive travelled > 3 cm, go to B\n"
    "  after 3 s, go to B\nfinish B\n"
).plan
HANDLES = handles(PLAN)
SHOWN = World(PLAN.routine.robot).all_shown()


def typed(text: str) -> str:
    """What a line means, in short."""
    match order(text, HANDLES, SHOWN):
        case Set(handle, value):
            return f"{handle.reading} = {value}"
        case Wait(duration_us):
            return f"wait {duration_us}"
        case Save(name):
            return f"save {name}"
        case Word(word):
            return word
        case Unclear(why):
            return f"? {why}"


@pytest.mark.parametrize(
    ("text", "meant"),
    [
        ("", "go on"),
        ("  \t ", "go on"),
        ("b", "bumper = pressed"),
        ("bumper", "bumper = pressed"),
        ("b released", "bumper = released"),
        ("bumper pressed", "bumper = pressed"),
        ("bumper unreadable", "bumper = None"),
        ("arm done", "arm done = True"),
        ("not arm done", "arm done = False"),
        ("arm done not done", "arm done = False"),
        ("a", "arm done = True"),
        ("not a", "arm done = False"),
        ("a done", "arm done = True"),
        ("f", "floor_eye = red"),
        ("floor_eye sees blue", "floor_eye = blue"),
        ("f unsure", "floor_eye = unsure"),
        ("r 7", "range_front = 7 cm"),
        ("range_front is 70.5 mm", "range_front = 70.5 mm"),
        ("r 7cm", "range_front = 7 cm"),
        ("r -0.5 in", "range_front = -0.5 in"),
        ("r is unreadable", "range_front = None"),
        ("drive travelled is -20 cm", "drive travelled = -20 cm"),
        ("d +3", "drive travelled = 3 cm"),
        ("1.5 s", "wait 1500000"),
        ("20ms", "wait 20000"),
        ("0.0000001 s", "wait 1"),
        ("back", "back"),
        ("sensors", "sensors"),
        ("help", "help"),
        ("quit", "quit"),
        ("save good_run", "save good_run"),
    ],
)
def test_order(text: str, meant: str) -> None:
    """Keys, names and the words of a scenario all do; blanks make no difference."""
    assert meant == typed(text)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("bumper presed", "`bumper` is `pressed`, `released` or `unreadable`"),
        ("b is pressed", "`bumper` is `pressed`"),
        ("f green", "`floor_eye` is `red`, `blue`, `white`, `unsure` or `unreadable`"),
        ("r", "type `r 7 cm`, or `r unreadable`"),
        ("r seven", "gives a number in cm"),
        ("r 7 deg", "gives a number in cm"),
        ("r 7,5", "gives a number in cm"),
        ("r 1e9", "gives a number in cm"),
        ("r 7 cm cm", "gives a number in cm"),
        ("arm done yes", "type `arm done`, `not arm done`"),
        ("arm done unreadable", "type `arm done`, `not arm done`"),
        ("not bumper pressed", "`not` goes with `done` alone"),
        ("not", "`not` goes in front of a `done`"),
        ("bumpr", "Did you mean `bumper`?"),
        ("hlep", "Did you mean `help`?"),
        ("drive traveled 3", "Did you mean `drive travelled`?"),
        ("xyzzy", "there is no `xyzzy`; type `help`"),
        ("1.5", "type a number and its unit, such as `1.5 s`"),
        ("1.5 cm", "type a number and its unit"),
        ("-1 s", "type `back`"),
        ("0 s", "time only goes on"),
        (".5 s", "type a number and its unit"),
        ("1 s 2 s", "type a number and its unit"),
        ("save", "type `save` and one name"),
        ("save my run", "type `save` and one name"),
        ("save ../x", "type `save` and one name"),
        ("save é", "type `save` and one name"),
        ("back 2", "`back` stands alone"),
        ("x" * 100_000, "too long"),
        ("r " + "9" * 150_000, "too long"),
        ("\x1b[2J", "there is no `\x1b[2J`"),
    ],
)
def test_unclear(text: str, says: str) -> None:
    """A slip is answered with one sentence that says what to type."""
    meant = typed(text)
    assert ("? ", True) == (meant[:2], says in meant), meant


def test_a_key_goes_round() -> None:
    """A key alone gives the next answer, and after the last the first again."""
    handle = next(handle for handle in HANDLES if handle.reading == "floor_eye")
    seen = []
    now: object = "unsure"
    for _ in range(5):
        wanted = order("f", HANDLES, {"floor_eye": now})  # type: ignore[dict-item]
        assert isinstance(wanted, Set)
        now = wanted.value
        seen.append(now)
    assert ["red", "blue", "white", "unsure", "red"] == seen
    assert handle.words == ("red", "blue", "white", "unsure")


def test_keys_are_one_letter_each() -> None:
    """No two readings share a key, and what the plan waits for gets its own first letters."""
    keys = [handle.key for handle in HANDLES]
    assert len(set(keys)) == len(keys)
    used = {handle.reading: handle.key for handle in HANDLES if handle.used}
    expected = {"bumper": "b", "range_front": "r", "arm done": "a", "floor_eye": "f"}
    assert expected | {"drive travelled": "d"} == used


def test_more_sensors_than_letters() -> None:
    """Where the letters run out a sensor goes by its name alone."""
    hubs = "".join(
        f"hub h{hub}\n" + "".join(f"  digital {port} b{hub}{port} beam\n" for port in range(8))
        for hub in range(4)
    )
    plan = check("start A\nstep A\n  after 1 s, go to B\nfinish B\n", "robot big\n" + hubs).plan
    many = handles(plan)
    assert (32, 26) == (len(many), len({handle.key for handle in many if handle.key}))
    last = many[-1]
    assert "" == last.key
    assert Set(last, "broken") == order(last.reading, many, {last.reading: "clear"})


@pytest.mark.parametrize("name", ["help", "save", "back", "quit", "s", "b"])
def test_a_sensor_that_is_called_like_an_order(name: str) -> None:
    """An order stays an order; the sensor is set by its key, or by its name with an answer."""
    robot = f"robot odd\nhub main\n  digital 1 {name} touch\n  digital 3 bumper touch\n"
    plan = check("start A\nstep A\n  after 1 s, go to B\nfinish B\n", robot).plan
    table = handles(plan)
    (handle,) = (one for one in table if one.reading == name)
    assert Set(handle, "pressed") == order(handle.key, table, {name: "released"})
    if name != "save":
        assert Set(handle, "pressed") == order(f"{name} pressed", table, {})
    word = order(name, table, {name: "released"})
    assert isinstance(word, Set if len(name) == 1 else Word | Unclear)


def test_every_phrase_is_an_order() -> None:
    """What the line editor offers can be typed, but for a name that is still to come."""
    for phrase in phrases(HANDLES):
        said = typed(f"{phrase}x" if phrase.endswith(" ") else phrase)
        assert "?" != said[0], phrase


def test_an_empty_line_goes_on() -> None:
    """Enter alone is the order that is given most often."""
    assert GO_ON == order("\n", HANDLES, SHOWN)


def test_a_number_out_of_range_is_remarked_upon() -> None:
    """What lies outside of a sensor's range is unreadable to the plan, and the student is told."""
    handle: Handle = next(one for one in HANDLES if one.reading == "range_front")
    for text, remarked in (("r 201", True), ("r 1.99", True), ("r 2", False), ("r 2 m", False)):
        wanted = order(text, HANDLES, SHOWN)
        assert isinstance(wanted, Set)
        assert remarked == ("cannot read it" in handle.remark(wanted.value))
