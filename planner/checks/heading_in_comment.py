"""What it finds
    A heading behind `#`, such as `# step Raise`, while the lines indented under it are not.

Why it matters on the field
    What is behind `#` is for people only. Without its heading, the lines would belong to the step
    above: the robot would do both at once.

Example
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 3 s, go to GiveUp
    # step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp

Instead
    start Approach
    step Approach
      drive forward 40 %
      when bumper pressed, go to Raise
      after 3 s, go to GiveUp
    step Raise
      arm to 1200 ticks
      when arm done, go to Lit
      after 3 s, go to GiveUp
    finish Lit
    finish GiveUp
"""

from __future__ import annotations

from collections.abc import Iterator

from planner.checks.case import Case, Found


def find(case: Case) -> Iterator[Found]:
    """The headings behind `#` that have lines under them."""
    for slip in case.slips_of("heading-in-comment"):
        yield Found(
            slip.place,
            f"`{slip.word}` stands behind `#`, and the lines under it do not",
            "What is behind `#` is for people only, so the lines under it would belong to what "
            "stands above them.",
            "Take the `#` away. If the lines are not wanted either, put a `#` before each of them.",
            paste=(slip.word,),
        )
