"""`python -m planner`, for where the folder of installed programs is not on the path."""

from planner.shell.main import main

if __name__ == "__main__":
    main(prog_name="planner")
