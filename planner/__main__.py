"""`python -m planner`, for where the folder of installed programs is not on the path."""

from planner.shell.main import run

if __name__ == "__main__":
    run()
