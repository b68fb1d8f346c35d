"""What a pass of an exported plan costs beside a switch written by hand; run on demand."""

from __future__ import annotations

from pathlib import Path

from java.java_tools import HERE, compile_java, exported, run_java, write_java

OURS = Path(__file__).resolve().parent / "java"
MOST_OF_BY_HAND = 1.3


def test_a_pass_against_a_switch_by_hand(tmp_path: Path) -> None:
    """A pass of twelve steps takes at most 1.3 times as long as by hand, and no memory."""
    text = (OURS / "twelve.routine").read_text(encoding="utf-8")
    write_java(tmp_path / "src", exported(text, "twelve"))
    sources = [HERE / "stubs", OURS / "bench", tmp_path / "src"]
    compiled = compile_java(sources, tmp_path / "classes", [OURS])
    assert (0, "") == (compiled.status, compiled.messages)

    times, moves, took = run_java(compiled.classes, "bench.PassCost")
    plan, by_hand = map(float, times.split())
    print(f"\na pass: {plan:.1f} ns, by hand {by_hand:.1f} ns, ratio {plan / by_hand:.2f}")

    # Both play the same matches.
    first, second = moves.split()
    assert first == second
    assert plan <= MOST_OF_BY_HAND * by_hand
    assert "0" == took
