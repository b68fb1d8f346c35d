"""Names and titles that would be something else in Java, and plans as large as may be."""

from __future__ import annotations

from planner.java.limits import MOST_GROUPS, MOST_IN_A_STEP, MOST_MEMORIES, MOST_STEPS

TRAPS = (
    "*/ int x; /*",
    r"C:\users\robot \u002a\u002f \u000a \\u0022 \uuu0041 \u12",
    "100 %n %s %1$d {{ 7 * 7 }} {% raw %} ${x} </svg> <b>",
    "ends in a backslash \\",
    "\u202eright to left\u202c \u05d0\u05d1\u05d2 \u2028 \u2029 \x0c \x85",
    "H\u00f6he \u03b1 \u4e2d \U0001f916 \u00ff",
    "x" * 500,
)

_STEPS = (
    *("new", "class", "int", "BackOff", "back_off", "backOff", "back__off", "BackOff2", "_", "_1"),
    *(
        "side",
        "Side",
        "bounds",
        "values",
        "valueOf",
        "seconds",
        "LIMIT",
        "pass",
        "True",
        "parts",
        "now",
    ),
)


def _hostile_routine() -> str:
    lines = [
        f'routine _ "{TRAPS[0]}"',
        "robot _",
        "limit 30 s",
        "setting int = 40 %",
        "setting INT = 20 %",
        "setting us = 2 s",
        "setting true = 3 cm",
        "memory Parts: class, new, Left, LEFT, seen by eye",
        "memory reason: left, class",
        "memory seen = 3 m",
        "memory before = 1 deg",
        "counter moves: 0 to 3, normally 1",
        "setting now by Parts",
        *("  class 1 m", "  new 2 m", "  Left 3 m", "  LEFT -4 m"),
        "setting rememberNew by reason",
        *("  left 1 %", "  class 2 %"),
        "start new",
    ]
    for index, name in enumerate(_STEPS):
        following = [*_STEPS, "Done"][index + 1]
        lines += [
            f'step {name} "{TRAPS[index % len(TRAPS)]}"',
            "  string new int",
            "  keep aux wait",
            "  math getClass -INT, int, 90 deg",
            "  aux stop rememberNew",
            "  count moves up",
            "  remember eye as Parts",
            "  remember class as reason",
            "  remember wait + seen - now as seen",
            "  remember string class as before",
            "  telemetry notify",
            f"  when long pressed and wait < true for 0.1 s, go to {following}",
            f"  when string class within 2 deg of 0.5 turns, go to {following}",
            f"  when eye sees class or eye sees unsure or eye sees UNSURE, go to {following}",
            f"  when once (not wait unreadable and math sum < 3 s), go to {following}",
            f"  when not (eye sees class for 3 of 5 looks), go to {following}",
            f"  when eye sees left for 3 of 5 looks or eye unreadable, go to {following}",
            f"  when string class stays within 2 deg for 0.1 s and match < 9 s, go to {following}",
            f"  when memory Parts is LEFT and counter moves is 3, go to {following}",
            f"  when wait > now + seen or memory before < 9 deg for 0.1 s, go to {following}",
            f"  when string done, go to {name}, at most 1000 times, then Done",
            f"  after us, go to {following}",
            f"  after 1 s, go to {following}",
        ]
    return "\n".join([*lines, f'finish Done "{TRAPS[1]}"', "  aux wait", ""])


HOSTILE_ROUTINE = _hostile_routine()

HOSTILE_ROBOT = f"""
robot _ "{TRAPS[1]}"
hub int
  motor 0 class
  motor 1 Class
  motor 2 hardwareMap
  servo 0 latest
  servo 1 final continuous
  digital 0 goto lamp
  digital 1 long touch
  digital 3 Long switch active high
  i2c 1 wait distance 0 m to 1000000 m
  i2c 2 null colour red
  i2c 3 _ heading
camera eye sees class, new, UNSURE, left, Left, LEFT
camera Eye sees unsure2
mechanism string "{TRAPS[2]}"
  uses class, long
  command new(int %) holds, reports done
    class at int
  command isDone holds
    class at 3 %
  command update holds
  reading class deg wraps from step start
  reading is_long_pressed ticks
mechanism aux "{TRAPS[3]}"
  uses Class, latest
  command wait runs
    Class at 10 %
  command stop(class %) runs
    Class at class
  command init holds
    latest at 5 %
mechanism math "{TRAPS[4]}"
  uses hardwareMap, final
  reading sum s
  command getClass(this %, super %, void deg) holds
    hardwareMap at this
    final at -super
mechanism Math "{TRAPS[5]}"
  uses hardwareMap
mechanism telemetry "{TRAPS[6]}"
  uses goto, _
  command notify holds
    goto on
mechanism dc_motor
  uses Long, wait
mechanism loose_sensors
  uses null
"""


# Mechanisms by the names that what they are told has in the class of a plan with lanes.
TOLD_ROBOT = """
robot told
hub h
  motor 0 a
  motor 1 power_percent
  motor 2 c
  digital 0 bumper touch
mechanism parts
  uses a
  command go(power %) runs
    a at power
mechanism Power_Percent
  uses power_percent
  command go(power %) runs
    power_percent at power
mechanism parts_go
  uses c
  command stop(power %) holds
    c at power
"""

TOLD_ROUTINE = """
routine told
robot told
limit 30 s
start Carry
together Carry
  when all lanes done, go to Done
  after 9 s, go to Done
  lane told
    step A
      parts go 30 %
      Power_Percent go 20 %
      after 1 s, go to done
  lane parts
    step B
      parts_go stop 10 %
      Power_Percent go 10 %
      when bumper pressed, go to done
      after 2 s, go to done
finish Done
"""

_COUNTERS = ("reason", "screen", "lane", "left", "noLanes", "now_nanos")


def _hostile_lanes() -> str:
    lines = [
        "routine Moves",
        "robot _",
        "limit 30 s",
        "choose Lane: Told, step",
        "choose Told: a, b",
        "start lanes",
        *(f"counter {name}: 0 to 9, normally 1" for name in _COUNTERS),
    ]
    for block, other in (("lanes", "lanes_"), ("lanes_", "lanes")):
        lines += [f'together {block} "{TRAPS[0]}"', "  string new 40 %"]
        lines += ["  when all lanes done and choice Lane is Told, go to Moves"]
        lines += [f"  when any lane done for 0.1 s, go to {other}", "  after 9 s, go to Moves"]
        names = ("told", "Told", "lanesGoOn", "before", "moves_of_pass")
        for number, lane in enumerate(names):
            step, end = f"{block}{lane}", names[number - 1]
            lines += [f"  lane {lane}", f'    step {step} "{TRAPS[number]}"']
            lines.append(f"      count {_COUNTERS[number]} up")
            lines += ["      keep aux wait", f"      aux stop {number} %", "      string isDone"]
            lines += [f"      math getClass {number} %, -3 %, {number} deg"]
            lines += [f"      when lane {end} done or lane {end} in {block}{end}, go to done"]
            lines += [f"      when not lane {end} done and string done, go to {step}2"]
            lines += [
                f"      when string class > 3 deg, go to {block}",
                "      after 1 s, go to done",
            ]
            lines += [f"    step {step}2", "      after 2 s, go to done"]
    return "\n".join([*lines, f'finish Moves "{TRAPS[1]}"', "  aux wait", ""])


HOSTILE_LANES = _hostile_lanes()


def wide_routine() -> str:
    """A block of as many lanes as an export takes."""
    lines = ["routine wide", "robot beetle", "limit 30 s", "start Carry", "together Carry"]
    lines += ["  when lane l0 done, go to Done", "  after 9 s, go to Done"]
    for lane in range(MOST_GROUPS - 1):
        lines += [f"  lane l{lane}", f"    step S{lane}", f"      drive forward {lane % 90} %"]
        lines += ["      when bumper pressed, go to done", "      after 1 s, go to Done"]
    return "\n".join([*lines, "finish Done", ""])


def five_lanes_routine() -> str:
    """A block of five long lanes."""
    lines = ["routine five", "robot beetle", "limit 30 s", "start Carry", "together Carry"]
    lines += ["  when all lanes done, go to Done", "  after 9 s, go to Done"]
    for lane in range(5):
        lines.append(f"  lane l{lane}")
        other = (lane + 1) % 5
        for step in range(200):
            after = f"L{lane}S{step + 1}" if step < 199 else "done"
            lines += [f"    step L{lane}S{step}", f"      drive forward {step % 100} %"]
            lines += [f"      when lane l{other} in L{other}S{step}, go to {after}"]
            lines += [f"      when drive travelled > {step} cm, go to L{lane}S0"]
            lines += [f"      after 1 s, go to {after}"]
    return "\n".join([*lines, "finish Done", ""])


def long_routine() -> str:
    """A routine with as many steps as an export takes, one after the other."""
    lines = ["routine long_way", "robot beetle", "limit 30 s", "start S0"]
    for number in range(MOST_STEPS - 1):
        lines += [
            f'step S{number} "step number {number}"',
            f"  drive forward {number % 100} %",
            f"  when range_front < {2 + number % 190} cm, go to S{(number + 1) % (MOST_STEPS - 1)}",
            "  after 0.1 s, go to Done",
        ]
    return "\n".join([*lines, "finish Done", ""])


def crowded_routine() -> str:
    """A routine whose steps hold as much as an export takes, in a step and in memories."""
    lines = ["routine crowd", "robot beetle", "limit 30 s", "start S0"]
    # An exit that denies a held condition counts for four.
    in_a_step = MOST_IN_A_STEP // 4 - 1
    held = "not (range_front within 1.5 cm of {} cm for 0.0001 s)"
    steady = "drive turned stays within {}.25 deg for 0.0001 s"
    for step in range(MOST_MEMORIES // in_a_step):
        lines += [f"step S{step}", "  drive forward 10 %"]
        each = held if step == 0 else steady
        lines += [f"  when {each.format(2 + n)}, go to Done" for n in range(in_a_step)]
        lines += ["  when bumper pressed, go to Done", f"  after 1 s, go to S{step + 1}"]
    return "\n".join([*lines, f"finish S{step + 1}", "finish Done", ""])
