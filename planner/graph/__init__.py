"""The model unfolded into a graph of steps and exits."""

from planner.graph.unfold import Exit, ExitKind, Plan, Steps, unfold

__all__ = ["Exit", "ExitKind", "Plan", "Steps", "unfold"]
