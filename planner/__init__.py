"""Plan, verify and export the autonomous routine of a school robotics team's robot."""

__version__ = "0.1.0"
